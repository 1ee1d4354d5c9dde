// Package choose finds which of the parts at hand suit a machine best: which hole of
// the servo arms and of the horns, which balls of the plate, which links, and how many
// teeth an arm is set off square. There is seldom one answer: a shorter arm divides
// the blade's pitch finer and holds more, and takes longer for its stroke. So the
// answer is the whole trade-off front, and what each choice on it gives up.
//
//	rig, err := machine.Build()
//	owned := choose.Owned{Horns: []units.Length{18 * units.Millimetre, 20 * units.Millimetre}}
//	choice, err := choose.Search(rig, owned, choose.Options{})
//	for _, member := range choice.Front {
//		result := choice.Results[member.Index]
//		...
//	}
//
// # A candidate
//
// A candidate is the machine with other parts. Its servos stay where they are, and
// the plate is to stand level at neutral, as high as before. Where a leg's arm, ball
// or teeth are not those of the machine, the arm is put on the nearest tooth to
// square, sub-trim takes out the rest in the radio's whole steps, and the link is cut
// to suit; the sub-trim that was there before is gone. The pitch link is turned by
// whole half turns, so that with collective and cyclic at zero the gauge comes as near as may
// be to the first target at mid stick, or where no mode has one, to what it reads now.
// What a candidate does not change is left as it is, unless it is to be fitted anew
// (Owned.Refit); the one that changes nothing is the machine itself, to the last bit.
//
// Then every flight mode is set anew: one with targets is solved for them, and one
// without is given the blade pitch that the machine has now (setup.Setup.Transfer).
//
// # What is looked at
//
// Measures hold what a candidate does; Result.Unfit holds what speaks against it, each
// reason with by how much. A candidate must meet every target, within the limits of the
// machine file for pitch error, rates, dead centre and ball links, without clipping a
// servo at any corner of the sticks, and without a load that stalls one. Tilt, servo load
// and stroke are traded against each other, so that the limits for those are the reader's
// to draw across the front. How hard the servos of a plate of more than three fight is on
// the sheet alone.
//
// # The front
//
// One result dominates another where it is no worse in any objective and better in
// one (V. Pareto's order; the usual definition, from memory). The front is all fit
// results that no fit result dominates. Fit says no more than that nothing of the above
// speaks against it: that parts do not touch, bind or bend is for the bench. Objectives
// are compared in steps that matter on a bench, see Objective.Of.
//
// # Accuracy
//
// Blade pitch, tilt, loads and rates are those of package setup, and its sheet of
// Result.Rig shows the same to a millionth of the unit. The largest tilt is looked for
// at every 2.5 % of the collective stick; clipping, dead centres and use of travel at
// five positions of each stick, corners among them.
package choose
