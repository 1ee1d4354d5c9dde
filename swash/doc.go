// Package swash holds the swashplate: from function demands to servo commands,
// from arm angles to the plate's true pose, and back.
//
// # Frame and signs
//
// x right, y forward (nose), z up, origin on the mast axis. A bearing is
// measured from the nose, clockwise seen from above: nose 0°, right 90°, tail
// 180°, left 270°. A pose is the height of the plate's centre on the mast and a
// tilt: a vector (right, forward) whose length is the angle between mast and
// plate normal and whose direction is the bearing of the plate's low side.
// Right cyclic lowers the right side, forward cyclic the front.
//
// The tilt is that of the plate as it stands: its rim is lowest on the low side. The
// plate and the rotating ring on it share one centre and one normal, and each stands
// turned about that normal so that its guide, an anti-rotation pin in a vertical slot
// or the ring driver, is in the vertical plane of its own bearing. A plate drawn
// without a guide takes its tilt by the smallest turn from level.
//
// # Geometry
//
// Each leg is an arm of package linkage whose link ends at a ball on the plate.
// Three legs fix the plate's three freedoms. With more than three the plate is
// over-constrained: the pose is the one with the least sum of squared link
// strains, weighted by stiffness, and each link's strain tells how much the servos
// fight.
//
// Machines whose servos do not act on the plate drive it one function at a time
// through BellCranks. Both are a Mechanism, and a Control joins either to its servos and
// the radio's mixing.
//
// # Accuracy
//
// Poses and arm angles are good to 1e-9 mm and 1e-9 degree over the reachable
// range of machines of model size, and arms back from a pose to within 1e-10
// degree; the tests hold both against tables solved at 40 digits. Links in conflict by
// a millimetre or two settle where their strain is least to within 1e-12 mm and 1e-12
// degree. Derivatives are analytic; the tests hold those of links in conflict to 1e-10
// of themselves. Nothing here allocates once a mechanism, a Control and its State are
// made, except to report an error.
package swash
