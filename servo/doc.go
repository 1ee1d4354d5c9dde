// Package servo goes from a command to the pulse a radio sends, from the pulse
// to the angle of the servo arm, and back; and from a load on the arm's ball
// to the torque at its shaft.
//
// A command is a plain number: 1 is the nominal throw, -1 the same the other
// way. The steps are
//
//	command -> reverse -> end point of its side -> throw -> + neutral + sub-trim -> step -> pulse limits -> pulse
//	pulse -> arm angle
//
// An arm angle is 0 when the arm stands in its drawn neutral direction, and
// positive when it has raised the ball it drives. An arm is square when it is
// at a right angle to its link: that, and not a right angle to the servo case,
// is what makes up and down travel even.
//
// # Accuracy
//
// Every step is a handful of float64 operations; command to pulse to command
// comes back to within 1e-12 where neither the steps nor the limits act.
//
// The throw of a servo is not standardised: 45° for 400 to 500 µs is common
// practice, no source. Measure the one on the bench.
package servo
