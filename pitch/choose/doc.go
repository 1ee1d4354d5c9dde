// Package choose finds the parts that suit a machine best, among those at hand. It tries
// the holes of the servo arms (also called servo horns) and of the pitch horns, the balls
// of the swashplate, the links, and arms set some teeth off square.
//
// There is seldom one answer. A shorter arm divides the blade's pitch finer and holds more,
// but its stroke takes longer. So the answer is the list of the best trade-offs, with what
// each of them gives up:
//
//	m, err := machine.Parse(file) // the bytes of a machine file
//	rig, err := setup.Build(m)
//	owned := choose.Owned{Horns: []units.Length{18 * units.Millimetre, 20 * units.Millimetre}}
//	choice, err := choose.Search(ctx, rig, owned, choose.Options{})
//	for _, member := range choice.Front {
//		fmt.Println(choice.Results[member.Index].Resolution())
//	}
//
// # A candidate
//
// A candidate is the machine with other parts. Its servos stay where they are. At neutral
// the plate must stand level and as high as before.
//
// Some legs get another arm, ball or number of teeth. On each of them the arm goes onto the
// tooth nearest to square, sub-trim takes out the rest in whole steps of the radio, and the
// link is cut to length. The old sub-trim is gone.
//
// The pitch link is turned by whole half turns. With the plate level at neutral the gauge then
// comes as near as it can to what it reads now, whatever the targets at mid stick. Sub-trims
// that lift or tilt the plate now are not counted.
//
// What a candidate does not change stays as it is, unless Owned.Refit asks for more. The
// candidate that changes nothing is the machine itself, to the last bit.
//
// Then every flight mode is set again. One with targets is solved for them. One without
// gets the blade pitch that the machine has now (setup.Setup.Transfer).
//
// # What is looked at
//
// Measures hold what a candidate does. Result.Unfit holds every reason against it, each with
// its amount. A candidate must meet every target. It must keep within the machine
// file's limits for pitch error, rates, dead centre and ball links. No servo may reach its
// pulse limit at any corner of the sticks, and no load may stall one.
//
// Tilt, servo load and stroke are not refused but traded, so that the reader can set limits
// for them. How hard the servos of a plate with more than three fight is on the sheet alone.
//
// # The front
//
// One result dominates another if it is no worse in any objective and better in one
// (V. Pareto's order; the usual definition, from memory). The Pareto front is all results
// without a reason against them that no other such result dominates. These are the best
// trade-offs. Whether parts touch, bind or bend is not looked at: check that on the machine.
// Objectives are compared in steps that matter on a bench, see Objective.Of.
//
// # Accuracy
//
// Blade pitch, tilt and rates are those of package setup, and loads those of package load.
// The sheet of Result.Rig shows the same to a millionth of the unit. The largest tilt is
// looked for at every 2.5 % of the collective stick. Pulse limits, dead centres and use of
// travel are looked at in five positions of each stick, corners among them.
package choose
