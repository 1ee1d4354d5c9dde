// Package swash works out where a swashplate stands, how high and tilted which way, for
// given servo arm angles. It also gives the arm angles that put it there. Start with a
// [PlateSpec], one leg for each servo arm (also called servo horn):
//
//	const mm = units.Millimetre
//	spec := swash.PlateSpec{Height: 60 * mm, Guide: swash.GuideAt(180 * units.Degree)}
//	for _, ball := range swash.ThreeAt120(0, 30*mm) {
//		leg, _ := swash.Upright(ball, spec.Height, 12*mm, 58*mm, swash.Outward)
//		spec.Legs = append(spec.Legs, leg)
//	}
//	plate, err := swash.NewPlate(spec)
//	if err != nil {
//		return err
//	}
//	pose, err := plate.Pose([]units.Angle{20 * units.Degree, 0, 0})
//	fmt.Println(pose.Height, pose.Tilt.Amount(), pose.Tilt.LowSide(), err) // 61.4 mm, 5.2°, low at the tail (180°)
//
// A [Control] adds the servos and the radio's mixing, so that you can ask in terms of the
// sticks: a [Demand] goes in, and a [Pose] comes out.
//
// # Frame and signs
//
// x right, y forward (nose), z up, origin on the mast axis. A bearing is a direction counted
// from the nose, clockwise seen from above: nose 0°, right 90°, tail
// 180°, left 270°. A [Pose] is the height of the plate's centre on the mast and a
// [Tilt]. The tilt is a vector (right, forward): its length is the angle between mast and
// plate normal, and it points at the plate's low side.
// Right cyclic lowers the right side, forward cyclic the front.
//
// The tilt is that of the plate as it stands: its rim is lowest on the low side. The
// plate and the rotating ring on it share one centre and one normal, and each stands
// turned about that normal as its [Guide] wants. That of the plate is the anti-rotation guide,
// a pin in a vertical slot. That of the ring is the ring driver (scissors, washout driver). The
// pin or driver is in the vertical plane of its own bearing. A plate drawn
// without a guide tilts by the smallest turn from level.
//
// # Geometry
//
// Each leg is an arm of package linkage whose link ends at a ball on the plate.
// Three legs fix the plate's three freedoms: height and two parts of tilt. With more than
// three, links can disagree. The pose is then the one with the least sum of squared link
// strains, weighted by stiffness, and each link's strain tells how much the servos
// fight: see [Plate.Fights].
//
// Where servos do not act on the plate, each drives one function
// through [BellCranks]. Both are a [Mechanism], and a Control joins either to its servos and
// the radio's mixing.
//
// # Accuracy
//
// Poses and arm angles are good to 1e-9 mm and 1e-9 degree over the reachable
// range of machines of model size, and arms back from a pose to within 1e-10
// degree; the tests hold both against tables solved at 40 digits. Links that disagree by
// a millimetre or two come to rest where their strain is least, to within 1e-12 mm and 1e-12
// degree. Derivatives are analytic; the tests hold those of links that disagree to 1e-10
// of themselves. Once a mechanism, a Control and its State are made, nothing allocates
// except to report an error.
package swash
