package swash

import (
	"math"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// BellCrankSpec describes a machine whose servos do not act on the swashplate directly.
// Each servo drives one function through a linkage of its own, commonly a chain of bell
// cranks. The inputs of the linkages are servo arm angles, with the linkages' own signs.
type BellCrankSpec struct {
	Height     units.Length    // the height of the plate's centre to which Collective's output is added
	Collective linkage.Linkage // gives the plate's rise, a length, positive up
	Right      linkage.Linkage // gives the tilt to the right, an angle, positive right side low
	Forward    linkage.Linkage // gives the tilt forward, an angle, positive front low
}

// BellCranks is a checked BellCrankSpec. It is a Mechanism of three servos, in the
// order collective, right, forward.
type BellCranks struct {
	height  units.Length
	chains  [3]linkage.Linkage
	neutral Pose
}

// functions are the names of a bell-crank machine's servos.
var functions = [3]string{"Collective", "Right", "Forward"}

// NewBellCranks returns the mechanism that spec describes. The error is a
// *units.FieldError, or what Pose reports of the neutral pose.
func NewBellCranks(spec BellCrankSpec) (*BellCranks, error) {
	if !units.Finite(spec.Height) {
		return nil, refuse("Height", "must be finite, not %v", spec.Height)
	}
	m := &BellCranks{height: spec.Height, chains: [3]linkage.Linkage{spec.Collective, spec.Right, spec.Forward}}
	for i, chain := range m.chains {
		want := linkage.Angle
		if i == 0 {
			want = linkage.Length
		}
		if chain == nil {
			return nil, refuse(functions[i], "must not be nil")
		}
		if in, out := chain.Kinds(); in != linkage.Angle || out != want {
			return nil, refuse(functions[i], "must take an %v and give %v; it takes %v and gives %v", linkage.Angle, want, in, out)
		}
	}
	var err error
	m.neutral, err = m.Pose(make([]units.Angle, 3))
	return m, err
}

// Servos implements Mechanism: there are three.
func (m *BellCranks) Servos() int { return 3 }

// Neutral implements Mechanism: the pose with all three arms at 0.
func (m *BellCranks) Neutral() Pose { return m.neutral }

// Chain returns the linkage of one servo: 0 is that for collective, 1 that for right cyclic,
// and 2 that for forward cyclic. It panics for another i.
func (m *BellCranks) Chain(i int) linkage.Linkage { return m.chains[i] }

// Pose implements Mechanism: each arm moves its own function, and tilt adds up as a vector.
// The error is a *LegError around a *linkage.TravelError, whose Leg counts the functions, or
// a *units.FieldError.
func (m *BellCranks) Pose(arms []units.Angle) (Pose, error) {
	if len(arms) != 3 {
		return Pose{}, refuse("arms", "%d angles; give one for each of the 3 servos", len(arms))
	}
	var out [3]float64
	for i, chain := range m.chains {
		motion, err := chain.Move(float64(arms[i]))
		if err != nil {
			return Pose{}, &LegError{i, err}
		}
		out[i] = motion.Out
	}
	p := Pose{m.height + units.Length(out[0]), Tilt{units.Angle(out[1]), units.Angle(out[2])}}
	return p, p.Validate()
}

// Arms implements Mechanism. The errors are those of Pose.
func (m *BellCranks) Arms(dst []units.Angle, pose Pose) error {
	if len(dst) != 3 {
		return refuse("dst", "room for %d angles; the machine has 3 servos", len(dst))
	}
	if err := pose.Validate(); err != nil {
		return err
	}
	for i, out := range [3]float64{float64(pose.Height - m.height), float64(pose.Tilt.Right), float64(pose.Tilt.Forward)} {
		q, err := m.chains[i].Back(out)
		if err != nil {
			return &LegError{i, err}
		}
		dst[i] = units.Angle(q)
	}
	return nil
}

// Effects implements Mechanism. The errors are those of Pose.
func (m *BellCranks) Effects(dst []ArmEffect, pose Pose, arms []units.Angle) error {
	if len(dst) != 3 || len(arms) != 3 {
		return refuse("dst", "room for %d effects and %d arm angles; the machine has 3 servos", len(dst), len(arms))
	}
	if err := pose.Validate(); err != nil {
		return err
	}
	for i, chain := range m.chains {
		motion, err := chain.Move(float64(arms[i]))
		if err != nil {
			return &LegError{i, err}
		}
		dst[i] = ArmEffect{
			Margin:        math.Sin(float64(min(motion.Input, motion.Transmission))),
			OffSquare:     motion.OffSquare,
			BallLinkAngle: motion.BallLinkAngle,
		}
		switch i {
		case 0:
			dst[i].PerArm.Height = motion.Slope
		case 1:
			dst[i].PerArm.Right = motion.Slope
		case 2:
			dst[i].PerArm.Forward = motion.Slope
		}
	}
	return nil
}

// holds implements holder: linkages hold within their travel.
func (m *BellCranks) holds(pose Pose, arms []units.Angle) error {
	for i, chain := range m.chains {
		if !chain.Travel().Holds(float64(arms[i])) {
			var effects [3]ArmEffect
			return m.Effects(effects[:], pose, arms)
		}
	}
	return nil
}

// MixOneEach returns the mixing of a bell-crank machine, in which each function
// has a servo of its own: collective, right and forward, each with command 1 for demand 1.
func MixOneEach() Mix {
	return Mix{{Collective: 1}, {Right: 1}, {Forward: 1}}
}

// LegLinkage returns leg i of a plate, from 0, as a geometry type of its own: its ball
// moves straight up, as it does when the plate rises level. Outputs are metres up from the
// ball's place on the level plate at neutral height. The error is a *units.FieldError.
func (p *Plate) LegLinkage(i int) (*linkage.ArmToLine, error) {
	if i < 0 || i >= len(p.legs) {
		return nil, refuseIndex("leg", i, len(p.legs))
	}
	f := Pose{Height: p.neutral.Height}.Frame(p.guide)
	return linkage.LineOf(p.legs[i].arm, f.point(p.legs[i].ball), linkage.Direction{Z: 1})
}
