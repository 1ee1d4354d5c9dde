package swash

import (
	"fmt"
	"math"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// Mechanism is what stands between the servo arms and the plate: a Plate, whose
// servos act on it directly, or BellCranks. Dst and arms have one element for each
// servo. A mechanism is safe for use by several goroutines and allocates nothing
// except to report an error.
type Mechanism interface {
	// Servos returns the number of servos.
	Servos() int
	// Neutral returns the pose with all arms at 0.
	Neutral() Pose
	// Pose returns the pose for the given arm angles.
	Pose(arms []units.Angle) (Pose, error)
	// Arms puts into dst the arm angles that hold a pose.
	Arms(dst []units.Angle, pose Pose) error
	// Effects puts into dst what small turns of each arm do at a pose with the
	// given arms, and fails where an arm is at a dead centre or past it.
	Effects(dst []ArmEffect, pose Pose, arms []units.Angle) error
}

// ArmEffect tells what a small turn of one servo arm does to the plate, all others
// held, and how well the arm stands. The derivative is analytic.
type ArmEffect struct {
	PerArm PoseRate // of the pose, per radian of arm angle
	// Margin is the sine of the angle between arm and link: 1 is square and 0 a
	// dead centre. Where there are several links it is the least of all.
	Margin float64
	// OffSquare is the angle by which the arm has turned past square to its
	// link, seen along the shaft, above 0 where the ball is too high.
	OffSquare units.Angle
	// BallLinkAngle is the angle by which the link tilts away from the arm's plane of
	// rotation: what the ball link on the arm must allow.
	BallLinkAngle units.Angle
}

// Load is what pulls on the plate: a force along the mast, and moments that
// would tip it.
type Load struct {
	Down    units.Force  // pushes the plate down the mast
	Right   units.Torque // tips the right side down
	Forward units.Torque // tips the front down
}

// Torque returns the torque with which the servo must turn its arm, positive in
// the sense that raises the ball, to hold the load: by virtual work. Friction
// and the parts' weight are not in it.
func (e *ArmEffect) Torque(l Load) units.Torque {
	work := -float64(l.Down)*e.PerArm.Height + float64(l.Right)*e.PerArm.Right + float64(l.Forward)*e.PerArm.Forward
	return units.Torque(-work)
}

// Control is a mechanism with its servos and the radio's mixing: from a demand to
// the plate. It is safe for use by several goroutines, each with a State of its own.
type Control struct {
	mechanism Mechanism
	servos    []servo.Servo
	mix       Mix
	unmix     *Unmix
}

// State is what the servos of a drive do at one demand, one element for each.
// Make it with NewState, and use it again and again.
type State struct {
	Pulses      []units.PulseWidth
	Arms        []units.Angle
	BeyondLimit []units.PulseWidth // as in servo.Output; 0 where the command fits
	Effects     []ArmEffect        // filled by Slopes

	commands []float64
}

// NewControl joins a mechanism to its servos and the radio's mixing. The error is a
// *SpecError or what Mix.Inverse reports.
func NewControl(m Mechanism, servos []servo.Servo, mix Mix) (*Control, error) {
	if m == nil {
		return nil, &SpecError{Leg: -1, Field: "mechanism", Reason: "missing"}
	}
	if n := m.Servos(); len(servos) != n || len(mix) != n {
		return nil, &SpecError{Leg: -1, Field: "servos", Reason: fmt.Sprintf("%d servos and %d rows of mixing where %d are wanted", len(servos), len(mix), n)}
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
	return &Control{m, append([]servo.Servo(nil), servos...), append(Mix(nil), mix...), unmix}, nil
}

// NewState returns a state for the drive's servos.
func (d *Control) NewState() *State {
	n := len(d.servos)
	return &State{
		Pulses:      make([]units.PulseWidth, n),
		Arms:        make([]units.Angle, n),
		BeyondLimit: make([]units.PulseWidth, n),
		Effects:     make([]ArmEffect, n),
		commands:    make([]float64, n),
	}
}

// Mechanism returns the mechanism.
func (d *Control) Mechanism() Mechanism { return d.mechanism }

// Mix returns a copy of the mixing.
func (d *Control) Mix() Mix { return append(Mix(nil), d.mix...) }

// Servos returns a copy of the servos as they are driven.
func (d *Control) Servos() []servo.Servo { return append([]servo.Servo(nil), d.servos...) }

// WithServo returns the same drive with servo i changed to s, for asking what
// the change does. The error is a *SpecError.
func (d *Control) WithServo(i int, s servo.Servo) (*Control, error) {
	servos := d.Servos()
	if i < 0 || i >= len(servos) {
		return nil, &SpecError{Leg: i, Field: "servo", Reason: fmt.Sprintf("there are %d", len(servos))}
	}
	servos[i] = s
	return NewControl(d.mechanism, servos, d.mix)
}

// WithMechanism returns the same servos and mixing on another mechanism. The
// error is a *SpecError.
func (d *Control) WithMechanism(m Mechanism) (*Control, error) { return NewControl(m, d.servos, d.mix) }

// Control puts into s what each servo does at a demand, and returns the pose that
// follows, clipped commands and all. The error is what the mechanism reports, or
// an *InputError for a demand that is not finite.
func (d *Control) Pose(s *State, demand Demand) (Pose, error) {
	for _, x := range [...]float64{demand.Collective, demand.Right, demand.Forward} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return Pose{}, &InputError{"demand", fmt.Sprintf("%+v is not finite", demand)}
		}
	}
	for i := range d.servos {
		o := d.servos[i].Output(d.mix.Command(i, demand))
		s.Pulses[i], s.Arms[i], s.BeyondLimit[i] = o.Pulse, o.Arm, o.BeyondLimit
	}
	return d.mechanism.Pose(s.Arms)
}

// Demand returns the demand, steps of the radio aside, that holds the plate in
// a pose: the inverse of Control. It fills s but for Effects. With more than three
// servos the mixing may not reach a pose without strain; the demand is then the
// nearest, by least squares on the commands, and residual says how far it is off,
// as in Unmix. The error is what the mechanism reports, or a *LegError around a
// *servo.RangeError where a servo would clip.
func (d *Control) Demand(s *State, pose Pose) (demand Demand, residual float64, err error) {
	if err := d.mechanism.Arms(s.Arms, pose); err != nil {
		return Demand{}, 0, err
	}
	for i, arm := range s.Arms {
		pulse, err := d.servos[i].PulseFor(arm)
		if err != nil {
			return Demand{}, 0, &LegError{i, err}
		}
		s.Pulses[i], s.BeyondLimit[i] = pulse, 0
		s.commands[i] = d.servos[i].Command(pulse)
	}
	return d.unmix.Demand(s.commands)
}

// ControlSlopes are the derivatives of a drive's pose over the demand.
type ControlSlopes struct {
	Collective, Right, Forward PoseRate
}

// Slopes returns the pose at a demand and its analytic derivatives over the
// demand, the steps and limits of the servos aside. Where a command is 0 and the
// end points differ, it takes the side of positive commands. It fills s.
func (d *Control) Slopes(s *State, demand Demand) (pose Pose, slopes ControlSlopes, err error) {
	if pose, err = d.Pose(s, demand); err != nil {
		return Pose{}, ControlSlopes{}, err
	}
	if err := d.mechanism.Effects(s.Effects, pose, s.Arms); err != nil {
		return Pose{}, ControlSlopes{}, err
	}
	for i := range s.Effects {
		command := d.mix.Command(i, demand)
		perCommand := s.Effects[i].PerArm.Scale(float64(d.servos[i].ArmPerCommand(command)))
		row := d.mix[i]
		slopes.Collective = slopes.Collective.Add(perCommand.Scale(row.Collective))
		slopes.Right = slopes.Right.Add(perCommand.Scale(row.Right))
		slopes.Forward = slopes.Forward.Add(perCommand.Scale(row.Forward))
	}
	return pose, slopes, nil
}
