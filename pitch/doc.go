// Package pitch works out the pitch of a helicopter's blade from where the swashplate stands,
// and back. A [Grip] is one blade: its pitch horn, its pitch link, and the rotating ring of the
// swashplate below. A [Head] joins it to package swash, from the sticks to the blade. Start
// with a [GripSpec] and the height of the plate at neutral:
//
//	const mm, neutral = units.Millimetre, 60 * units.Millimetre
//	spec := pitch.GripSpec{RingRadius: 16 * mm, Phase: 80 * units.Degree, HubHeight: 105 * mm,
//		Horn: 20 * mm, Rotation: pitch.Clockwise, Side: pitch.Leading}
//	spec.Link, _ = spec.LinkFor(0, neutral) // zero pitch at neutral
//	grip, err := pitch.NewGrip(spec, neutral)
//	if err != nil {
//		return err
//	}
//	pose := swash.Pose{Height: 62 * mm, Tilt: swash.Tilt{Forward: 5 * units.Degree}}
//	angle, err := grip.Pitch(180*units.Degree, pose) // the blade over the tail
//	fmt.Println(angle, err)
//
// [Grip.Revolution] gives collective and cyclic over one turn of the rotor, and
// [Grip.PoseFor] the way back. [Head.Solve] finds the rates and the points of the pitch curve
// to enter in a radio for the pitch that a flight mode must have.
//
// # Bearings
//
// A blade's bearing psi counts from the nose, clockwise seen from above, whichever way the
// rotor turns: nose 0°, right 90°, tail 180°, left 270°. Texts on helicopters count azimuth
// from the tail and the way that the rotor turns, so our 180° is their 0°. The frame and all
// other signs are those of package swash.
//
// # The rotating side
//
// The ring turns with the rotor on the plate, about the plate's own normal and in its
// plane. For the blade at bearing psi, its ball on the ring is drawn at bearing psi + Phase.
// The ring driver (scissors, washout driver) holds the ring so that its mark at psi +
// RingDriver stays in the vertical plane of that bearing. The pitch link goes from the
// ball to the pitch horn on the blade's grip. The horn stands on the leading or the
// trailing side of the feathering axis, about which the blade pitches. Blade pitch is positive
// with the leading edge up. The direction of rotation is as seen from above.
//
// A head with a flybar (stabilizer bar) has a [MixingArm] between: the plate and the flybar
// drive its two ends, and the pitch link stands on it in between. Pitch has the flybar level,
// as on the bench.
//
// Blade pitch over one revolution is a Fourier series:
//
//	pitch(psi) = collective + cosine cos psi + sine sin psi + the unevenness that is left
//
// # Accuracy
//
// Blade pitch is good to 1e-9 degree away from a dead centre of the pitch horn; the tests
// hold it against tables solved at 40 digits. Solved values meet a target within 1e-9 degree
// before they are rounded to the radio's steps; [Solution] says what the steps leave. Pitch from a stick position, and
// its derivatives, allocate nothing except to report an error.
package pitch
