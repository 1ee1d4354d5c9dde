package swash

import (
	"fmt"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// Direct is a plate whose servos act on it directly, each through a leg of its
// own, with all functions mixed in the radio. It is safe for use by several
// goroutines.
type Direct struct {
	plate  *Plate
	servos []servo.Servo
	mix    Mix
	unmix  *Unmix
}

// NewDirect joins a plate to its servos, one for each leg, and the radio's
// mixing. The error is a *SpecError or what Mix.Inverse reports.
func NewDirect(plate *Plate, servos []servo.Servo, mix Mix) (*Direct, error) {
	if n := plate.Legs(); len(servos) != n || len(mix) != n {
		return nil, &SpecError{Leg: -1, Field: "servos", Reason: fmt.Sprintf("%d servos and %d rows of mixing for %d legs", len(servos), len(mix), n)}
	}
	for i := range servos {
		if err := servos[i].Validate(); err != nil {
			return nil, &SpecError{Leg: i, Field: "servo", Reason: err.Error(), Err: err}
		}
	}
	unmix, err := mix.Inverse()
	if err != nil {
		return nil, err
	}
	return &Direct{plate, append([]servo.Servo(nil), servos...), append(Mix(nil), mix...), unmix}, nil
}

// Plate returns the plate.
func (d *Direct) Plate() *Plate { return d.plate }

// Mix returns a copy of the mixing.
func (d *Direct) Mix() Mix { return append(Mix(nil), d.mix...) }

// Servos returns the number of servos.
func (d *Direct) Servos() int { return len(d.servos) }

// Servo returns servo i as it is driven.
func (d *Direct) Servo(i int) servo.Servo { return d.servos[i] }

// WithServo returns the same drive with servo i changed to s, for asking what
// the change does. The error is a *SpecError.
func (d *Direct) WithServo(i int, s servo.Servo) (*Direct, error) {
	if i < 0 || i >= len(d.servos) {
		return nil, &SpecError{Leg: i, Field: "servo", Reason: fmt.Sprintf("there are %d", len(d.servos))}
	}
	changed := append([]servo.Servo(nil), d.servos...)
	changed[i] = s
	return NewDirect(d.plate, changed, d.mix)
}

// Drive puts into out what each servo does at a demand, and returns the pose
// that follows, clipped commands and all. The error is what Plate.Pose reports.
func (d *Direct) Drive(out []servo.Output, demand Demand) (Pose, error) {
	if len(out) != len(d.servos) {
		return Pose{}, &InputError{"out", fmt.Sprintf("%d outputs for %d servos", len(out), len(d.servos))}
	}
	var buf [inline]units.Angle
	arms := buf[:0]
	for i := range d.servos {
		out[i] = d.servos[i].Drive(d.mix.Command(i, demand))
		arms = append(arms, out[i].Arm)
	}
	return d.plate.Pose(arms)
}

// Demand returns the demand, steps of the radio aside, that holds the plate in
// a pose: the inverse of Drive. With more than three servos the mixing may not
// reach a pose without strain; the demand is then the nearest, by least squares
// on the commands, and residual says how far it is off, as in Unmix.
// The error is what Plate.Arms reports, or a *LegError around a
// *servo.RangeError where a servo would clip.
func (d *Direct) Demand(pose Pose) (demand Demand, residual float64, err error) {
	var armBuf [inline]units.Angle
	arms := append(armBuf[:0], make([]units.Angle, len(d.servos))...)
	if err := d.plate.Arms(arms, pose); err != nil {
		return Demand{}, 0, err
	}
	var commandBuf [inline]float64
	commands := commandBuf[:0]
	for i, arm := range arms {
		pulse, err := d.servos[i].PulseFor(arm)
		if err != nil {
			return Demand{}, 0, &LegError{i, err}
		}
		commands = append(commands, d.servos[i].Command(pulse))
	}
	return d.unmix.Demand(commands)
}

// DriveSlopes are the derivatives of a drive's pose over the demand.
type DriveSlopes struct {
	Collective, Right, Forward PoseRate
}

// Slopes returns the pose at a demand and its analytic derivatives over the
// demand, the steps and limits of the servos aside. Where a command is 0 and the end
// points differ, it takes the side of positive commands. Effects, one for each
// leg, is filled with the legs' effects at that pose.
func (d *Direct) Slopes(effects []LegEffect, demand Demand) (pose Pose, slopes DriveSlopes, err error) {
	var outBuf [inline]servo.Output
	out := append(outBuf[:0], make([]servo.Output, len(d.servos))...)
	if pose, err = d.Drive(out, demand); err != nil {
		return Pose{}, DriveSlopes{}, err
	}
	var armBuf [inline]units.Angle
	arms := armBuf[:0]
	for _, o := range out {
		arms = append(arms, o.Arm)
	}
	if err := d.plate.Effects(effects, pose, arms); err != nil {
		return Pose{}, DriveSlopes{}, err
	}
	for i := range effects {
		command := d.mix.Command(i, demand)
		perCommand := effects[i].PerArm.Scale(float64(d.servos[i].ArmPerCommand(command)))
		row := d.mix[i]
		slopes.Collective = slopes.Collective.Add(perCommand.Scale(row.Collective))
		slopes.Right = slopes.Right.Add(perCommand.Scale(row.Right))
		slopes.Forward = slopes.Forward.Add(perCommand.Scale(row.Forward))
	}
	return pose, slopes, nil
}
