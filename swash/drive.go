package swash

import (
	"fmt"
	"math"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// Mechanism is what stands between the servo arms and the swashplate: a Plate, whose
// servos act on it directly, or BellCranks. The slices dst and arms have one element for each
// servo, in one order everywhere. A mechanism is safe for use by several goroutines and
// allocates nothing except to report an error.
type Mechanism interface {
	// Servos returns the number of servos, which is the length of dst and arms.
	Servos() int
	// Neutral returns the pose with all arms at 0.
	Neutral() Pose
	// Pose returns the pose for the given arm angles. It fails where the plate
	// cannot get there.
	Pose(arms []units.Angle) (Pose, error)
	// Arms puts into dst the arm angles that hold a pose: the inverse of Pose. It
	// fails where a link does not reach.
	Arms(dst []units.Angle, pose Pose) error
	// Effects puts into dst what small turns of each arm do at a pose with the
	// given arms, and fails where an arm is at a dead centre or past it.
	Effects(dst []ArmEffect, pose Pose, arms []units.Angle) error
}

// ArmEffect tells what a small turn of one servo arm does to the swashplate while all others
// stand still, and how well the arm stands. The derivative is analytic.
type ArmEffect struct {
	PerArm PoseRate // of the pose, per radian of arm angle
	// Margin is the lever of the link about the servo's shaft over the arm's radius: 0
	// is a dead centre. It is 1 only where arm and link are square and the link lies in
	// the plane in which the arm turns; a link 20° out of it leaves a square arm 0.94.
	// Where there are several links it is the least of all.
	Margin float64
	// OffSquare is the angle by which the arm has turned past square to its
	// link, seen along the shaft, positive where the ball is too high.
	OffSquare units.Angle
	// BallLinkAngle is the angle by which the link tilts out of the plane in which the
	// arm turns, 0 to 90°: what the ball link on the arm must allow.
	BallLinkAngle units.Angle
}

// Load is what pulls on the swashplate: a force along the mast, and moments that
// would tip it. Each can have either sign.
type Load struct {
	Down    units.Force  // pushes the plate down the mast
	Right   units.Torque // tips the right side down
	Forward units.Torque // tips the front down
}

// Torque returns the torque with which the servo must turn its arm to hold the load, positive
// in the sense that raises the ball. It follows by virtual work. Friction
// and the parts' weight are not in it.
func (e *ArmEffect) Torque(l Load) units.Torque {
	work := -float64(l.Down)*e.PerArm.Height + float64(l.Right)*e.PerArm.Right + float64(l.Forward)*e.PerArm.Forward
	return units.Torque(-work)
}

// Control is a mechanism with its servos and the radio's mixing: it takes a demand to the
// swashplate's pose and back. It is safe for use by several goroutines, each with a State of
// its own.
type Control struct {
	mechanism Mechanism
	servos    []servo.Servo
	mix       Mix
	unmix     *Unmix
}

// State is what the servos of a Control do at one demand, one element for each servo.
// NewState makes one; use it again and again.
type State struct {
	Pulses      []units.PulseWidth // that the radio sends
	Arms        []units.Angle      // positive where the ball is higher than in the drawn neutral direction
	BeyondLimit []units.PulseWidth // as in servo.Output; 0 where the command fits
	Effects     []ArmEffect        // what Slopes fills in, and nothing else

	commands []float64
}

// Limited returns a *LegError around a *servo.RangeError for the first servo that would have
// to go beyond its pulse limits, and nil where none would.
func (s *State) Limited() error {
	for i, excess := range s.BeyondLimit {
		if excess != 0 {
			return &LegError{Leg: i, Err: &servo.RangeError{Arm: s.Arms[i], Excess: excess}}
		}
	}
	return nil
}

// NewControl joins a mechanism to its servos and the radio's mixing, a servo and a row of mixing
// for each arm, in the mechanism's order. It copies both. The error is a
// *units.FieldError.
func NewControl(m Mechanism, servos []servo.Servo, mix Mix) (*Control, error) {
	if m == nil {
		return nil, refuse("m", "must not be nil")
	}
	if n := m.Servos(); len(servos) != n || len(mix) != n {
		return nil, refuse("servos", "must be %d, and so must the rows of mixing, not %d and %d", n, len(servos), len(mix))
	}
	for i := range servos {
		if err := servos[i].Validate(); err != nil {
			return nil, units.In(fmt.Sprintf("servos[%d]", i), fmt.Sprintf("swash: servo %d: servo ", i+1), err)
		}
	}
	unmix, err := mix.Inverse()
	if err != nil {
		return nil, units.In("mix", "", err)
	}
	return &Control{m, append([]servo.Servo(nil), servos...), append(Mix(nil), mix...), unmix}, nil
}

// NewState returns a state with room for each servo of d. Other Controls of as many servos
// can use it too.
func (d *Control) NewState() *State {
	if d == nil {
		return &State{}
	}
	n := len(d.servos)
	return &State{
		Pulses:      make([]units.PulseWidth, n),
		Arms:        make([]units.Angle, n),
		BeyondLimit: make([]units.PulseWidth, n),
		Effects:     make([]ArmEffect, n),
		commands:    make([]float64, n),
	}
}

// ready refuses a Control that NewControl did not make, and gives a state of another size the
// size of this one's.
func (d *Control) ready(s *State) error {
	switch {
	case d == nil || d.mechanism == nil:
		return refuse("control", "is empty; make it with NewControl")
	case s == nil:
		return refuse("s", "must be a state, such as that of NewState")
	case len(s.commands) != len(d.servos) || len(s.Arms) != len(d.servos) || len(s.Effects) != len(d.servos):
		*s = *d.NewState()
	}
	return nil
}

// Mechanism returns what stands between the servo arms and the plate.
func (d *Control) Mechanism() Mechanism { return d.mechanism }

// Mix returns a copy of the radio's mixing, a row for each servo.
func (d *Control) Mix() Mix { return append(Mix(nil), d.mix...) }

// Servos returns a copy of the servos with their settings in the radio.
func (d *Control) Servos() []servo.Servo { return append([]servo.Servo(nil), d.servos...) }

// WithServo returns a copy of d with servo i, from 0, changed to s: to ask what
// the change does. The error is a *units.FieldError.
func (d *Control) WithServo(i int, s servo.Servo) (*Control, error) {
	servos := d.Servos()
	if i < 0 || i >= len(servos) {
		return nil, refuseIndex("servo", i, len(servos))
	}
	servos[i] = s
	return NewControl(d.mechanism, servos, d.mix)
}

// WithMechanism returns the same servos and mixing on another mechanism of as many servos.
// The error is a *units.FieldError.
func (d *Control) WithMechanism(m Mechanism) (*Control, error) { return NewControl(m, d.servos, d.mix) }

// Pose puts into s what each servo does at a demand, but for Effects, and returns the pose
// that follows. A servo that reaches its pulse limit stays there; s.BeyondLimit tells. The
// error is what the mechanism reports, or a *units.FieldError for a demand that is not finite.
func (d *Control) Pose(s *State, demand Demand) (Pose, error) {
	if err := d.ready(s); err != nil {
		return Pose{}, err
	}
	for i, x := range [...]float64{demand.Collective, demand.Right, demand.Forward} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return Pose{}, refuse("demand."+functions[i], "must be finite, not %+v", demand)
		}
	}
	for i := range d.servos {
		o := d.servos[i].Output(d.mix.Command(i, demand))
		s.Pulses[i], s.Arms[i], s.BeyondLimit[i] = o.Pulse, o.Arm, o.BeyondLimit
	}
	return d.mechanism.Pose(s.Arms)
}

// Demand returns the demand that holds the plate in a pose, steps of the radio aside: the
// inverse of Pose. It fills s but for Effects. With more than three servos, the mixing
// cannot reach every pose without strain. The demand is then the nearest, by least squares on
// the commands, and residual says how far it is off, as in Unmix. The error is what the
// mechanism reports, or a *LegError around a *servo.RangeError where a servo would need a
// pulse beyond its limits.
func (d *Control) Demand(s *State, pose Pose) (demand Demand, residual float64, err error) {
	if err := d.ready(s); err != nil {
		return Demand{}, 0, err
	}
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

// ControlSlopes are the derivatives of a Control's pose over the demand: metres and radians
// for a demand of 1.
type ControlSlopes struct {
	Collective, Right, Forward PoseRate
}

// Slopes returns the pose at a demand and its analytic derivatives over the
// demand, which leave out the steps and limits of the servos. Where a command is 0 and the
// end points differ, it takes the side of positive commands. It fills s. The error is what
// Pose or the mechanism's Effects reports.
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
