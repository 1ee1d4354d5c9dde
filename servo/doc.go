// Package servo works out which pulse a radio sends for a command, how far the servo arm
// (also called servo horn) then turns, and the way back. It also gives the torque that a load
// asks of the servo, and whether the servo can hold it. Start with a [Servo]:
//
//	s := servo.Servo{
//		Neutral: 1520 * units.PulseMicrosecond, Throw: 400 * units.PulseMicrosecond, Travel: 45 * units.Degree,
//		Low: 100 * units.Percent, High: 100 * units.Percent,
//		Min: 920 * units.PulseMicrosecond, Max: 2120 * units.PulseMicrosecond,
//	}
//	out := s.Output(0.5)              // 1720 µs, and the arm is 22.5° up
//	pulse, err := s.PulseFor(out.Arm) // and back: 1720 µs
//	fmt.Println(out.Pulse, pulse, err)
//
// [Spline] says by how many teeth to move an arm, and [Rating] holds what a data sheet says.
//
// # Conventions
//
// A command is a plain number: 1 is the nominal throw, -1 the same the other
// way. The steps are
//
//	command -> reverse -> end point of its side -> throw -> + neutral + sub-trim -> step -> pulse limits -> pulse
//	pulse -> arm angle
//
// An arm angle is 0 where the arm stands in its drawn neutral direction. It is
// positive where the arm has raised the ball that it drives.
//
// An arm is square where it stands at a right angle to its link, seen along the servo's
// shaft: the line from the shaft to the ball, and the line along the link, form the corner
// of a square. A right angle to the servo's case does not matter. A square arm moves its ball
// as far up as down.
//
// # Accuracy
//
// Every step is a handful of float64 operations. Command to pulse to command
// comes back to within 1e-12 where neither the steps nor the limits act.
//
// No standard says how far a servo turns: 45° for 400 to 500 µs is common
// practice, no source. Measure yours.
package servo
