package pitch

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Turn is the rotor's direction of rotation as seen from above.
type Turn string

// The directions of rotation.
const (
	Clockwise        Turn = "clockwise"
	CounterClockwise Turn = "counter-clockwise"
)

// Side is the side of the feathering axis on which the horn stands.
type Side string

// The sides of a blade.
const (
	Leading  Side = "leading"
	Trailing Side = "trailing"
)

// GripSpec describes the rotating side from the ring to one blade. All blades
// are alike.
type GripSpec struct {
	RingRadius units.Length // of the ring's balls from the plate's axis
	Phase      units.Angle  // the ring ball's bearing less the blade's
	Driver     units.Angle  // the ring driver's bearing less the blade's
	HubHeight  units.Length // of the feathering axis on the mast
	Horn       units.Length // from the feathering axis to the horn's ball
	HornX      units.Length // of the horn's ball along the blade axis, from the mast
	Rest       units.Angle  // turn of the horn from level at zero blade pitch, in the sense of positive pitch
	Link       units.Length // between the horn link's ball centres
	Turn       Turn
	Side       Side
	// Mixer is the part of the ring ball's travel that reaches the horn link
	// through a mixing arm whose other input, the paddle bar, is held level:
	// 1 is a head without one. Travel counts from the level plate at neutral.
	Mixer units.Ratio
}

// Grip is a checked GripSpec. It is safe for use by several goroutines.
//
// All its work is done in the blade's own frame, which has the blade at the nose:
// there the horn and the ring's balls keep still, and the plate's lean turns.
type Grip struct {
	spec   GripSpec
	horn   linkage.Arm
	branch linkage.Branch
	ball   swash.Ball    // on the ring
	driver swash.Guide   // of the ring
	home   linkage.Point // of the ring's ball, on the level plate at neutral
}

// NewGrip checks spec, for a plate with the given neutral height. The error is
// a *SpecError, or a *GripError where the link does not fit at neutral.
func NewGrip(spec GripSpec, neutral units.Length) (*Grip, error) {
	for _, f := range []struct {
		name     string
		value    float64
		positive bool
	}{
		{"ring radius", float64(spec.RingRadius), true},
		{"phase", float64(spec.Phase), false},
		{"driver", float64(spec.Driver), false},
		{"hub height", float64(spec.HubHeight), false},
		{"horn", float64(spec.Horn), true},
		{"horn x", float64(spec.HornX), false},
		{"rest angle", float64(spec.Rest), false},
		{"link", float64(spec.Link), true},
		{"mixer", float64(spec.Mixer), true},
		{"neutral height", float64(neutral), false},
	} {
		if math.IsNaN(f.value) || math.IsInf(f.value, 0) {
			return nil, &SpecError{Field: f.name, Reason: fmt.Sprintf("%v is not finite", f.value)}
		}
		if f.positive && !(f.value > 0) {
			return nil, &SpecError{Field: f.name, Reason: fmt.Sprintf("%v is not above zero", f.value)}
		}
	}
	horn, err := spec.hornArm()
	if err != nil {
		return nil, err
	}
	g := &Grip{
		spec:   spec,
		horn:   horn,
		ball:   swash.Ball{Bearing: spec.Phase, Radius: spec.RingRadius},
		driver: swash.GuideAt(spec.Driver),
	}
	level := swash.Pose{Height: neutral}.Frame(g.driver)
	g.home = level.Point(g.ball)
	return g, g.settle()
}

// hornArm returns the horn of the blade at the nose, as an arm whose angle is
// blade pitch plus rest angle.
func (spec *GripSpec) hornArm() (linkage.Arm, error) {
	leading := 1.0 // the leading edge of a clockwise blade at the nose is to the right
	switch spec.Turn {
	case Clockwise:
	case CounterClockwise:
		leading = -1
	default:
		return linkage.Arm{}, &SpecError{Field: "turn", Reason: fmt.Sprintf("%q is neither %q nor %q", spec.Turn, Clockwise, CounterClockwise)}
	}
	toward := leading
	switch spec.Side {
	case Leading:
	case Trailing:
		toward = -leading
	default:
		return linkage.Arm{}, &SpecError{Field: "side", Reason: fmt.Sprintf("%q is neither %q nor %q", spec.Side, Leading, Trailing)}
	}
	arm, err := linkage.NewArm(linkage.ArmSpec{
		Shaft:   linkage.Point{Y: spec.HornX, Z: spec.HubHeight},
		Axis:    linkage.Direction{Y: -leading}, // positive turns lift the leading edge
		Neutral: linkage.Direction{X: toward},
		Radius:  spec.Horn,
		Link:    spec.Link,
	})
	if err != nil {
		return linkage.Arm{}, &SpecError{Field: "horn", Reason: err.Error(), Err: err}
	}
	return arm, nil
}

// settle picks the branch: of the two pitches at which the link fits on the
// level plate at neutral, the one nearer to zero.
func (g *Grip) settle() error {
	best := math.Inf(1)
	for _, branch := range []linkage.Branch{linkage.Behind, linkage.Ahead} {
		q, err := g.horn.AngleTo(g.home, branch)
		if err != nil {
			return &GripError{0, err}
		}
		if p := math.Abs(float64(linkage.Wrap(q - g.spec.Rest))); p < best {
			best, g.branch = p, branch
		}
	}
	return nil
}

// Spec returns the description the grip was built from.
func (g *Grip) Spec() GripSpec { return g.spec }

// Pitch returns the pitch of the blade at bearing azimuth, with the plate in a
// pose. The error is a *GripError where the link does not fit, or a *SpecError
// for a number that is not finite or a lean of 90° or more.
func (g *Grip) Pitch(azimuth units.Angle, pose swash.Pose) (units.Angle, error) {
	frame, _, _, err := g.frame(azimuth, pose)
	if err != nil {
		return 0, err
	}
	return g.pitchTo(azimuth, g.lower(frame.Point(g.ball)))
}

// lower returns the lower ball of the horn link for a position of the ring's
// ball: the same ball, unless a mixing arm lies between.
func (g *Grip) lower(ring linkage.Point) linkage.Point {
	m := units.Length(g.spec.Mixer)
	if m == 1 {
		return ring
	}
	return linkage.Point{
		X: g.home.X + m*(ring.X-g.home.X),
		Y: g.home.Y + m*(ring.Y-g.home.Y),
		Z: g.home.Z + m*(ring.Z-g.home.Z),
	}
}

func (g *Grip) pitchTo(azimuth units.Angle, lower linkage.Point) (units.Angle, error) {
	q, err := g.horn.AngleTo(lower, g.branch)
	if err != nil {
		return 0, &GripError{azimuth, err}
	}
	return linkage.Wrap(q - g.spec.Rest), nil
}

// frame returns the ring's frame as the blade at bearing azimuth sees it, and the
// sine and cosine of that bearing.
func (g *Grip) frame(azimuth units.Angle, p swash.Pose) (f swash.Frame, sin, cos float64, err error) {
	if !units.Finite(azimuth) {
		return f, 0, 0, &SpecError{Field: "azimuth", Reason: "not finite"}
	}
	if err := p.Validate(); err != nil {
		return f, 0, 0, &SpecError{Field: "pose", Reason: err.Error(), Err: err}
	}
	sin, cos = math.Sincos(float64(azimuth))
	right, forward := float64(p.Lean.Right), float64(p.Lean.Forward)
	p.Lean = swash.Lean{
		Right:   units.Angle(right*cos - forward*sin),
		Forward: units.Angle(right*sin + forward*cos),
	}
	return p.Frame(g.driver), sin, cos, nil
}

// Effect tells what small changes do to the pitch of one blade. The derivatives
// are analytic.
type Effect struct {
	Pitch        units.Angle
	PerPose      swash.PoseRate // rad/m of plate height, rad/rad of lean
	PerLink      float64        // rad/m of horn link
	PerHorn      float64        // rad/m of horn radius
	PerHubHeight float64        // rad/m of hub height
	// Margin is the lever of the horn link about the feathering axis over the
	// horn's radius, 1 where they are square and 0 at a dead centre.
	Margin float64
}

// Effect returns the pitch of the blade at bearing azimuth and its derivatives.
// The errors are those of Pitch, and a *GripError around a
// *swash.DeadCentreError.
func (g *Grip) Effect(azimuth units.Angle, pose swash.Pose) (Effect, error) {
	frame, sin, cos, err := g.frame(azimuth, pose)
	if err != nil {
		return Effect{}, err
	}
	ring, perRight, perForward := frame.Slopes(g.ball)
	lower := g.lower(ring)
	pitch, err := g.pitchTo(azimuth, lower)
	if err != nil {
		return Effect{}, err
	}
	tip, slope := g.horn.Ball(pitch + g.spec.Rest)
	spoke := r3.Sub(tip.Vec(), g.horn.Shaft().Vec())
	w := r3.Unit(r3.Sub(tip.Vec(), lower.Vec())) // along the link, up to the horn
	lever, radius := r3.Dot(w, slope.Vec()), float64(g.spec.Horn)
	margin := math.Abs(lever) / radius
	if !(margin > deadCentre) {
		return Effect{}, &GripError{azimuth, &swash.DeadCentreError{Margin: margin}}
	}
	m := float64(g.spec.Mixer) / lever
	right, forward := m*r3.Dot(w, perRight.Vec()), m*r3.Dot(w, perForward.Vec())
	return Effect{
		Pitch: pitch,
		PerPose: swash.PoseRate{
			Height:  m * w.Z,
			Right:   right*cos + forward*sin,
			Forward: forward*cos - right*sin,
		},
		PerLink:      1 / lever,
		PerHorn:      -r3.Dot(w, spoke) / (lever * radius),
		PerHubHeight: -w.Z / lever,
		Margin:       margin,
	}, nil
}

// deadCentre is the margin below which the horn counts as at a dead centre.
const deadCentre = 1e-6

// LinkFor returns the horn link's length that puts the blade at the given pitch
// on the level plate at neutral height: where to cut the link to. The spec's own
// Link is not looked at. The errors are those of NewGrip.
func (spec GripSpec) LinkFor(pitch units.Angle, neutral units.Length) (units.Length, error) {
	spec.Link = spec.Horn // any length will do to place the horn
	horn, err := spec.hornArm()
	if err != nil {
		return 0, err
	}
	tip, _ := horn.Ball(pitch + spec.Rest)
	frame := swash.Pose{Height: neutral}.Frame(swash.GuideAt(spec.Driver))
	ring := frame.Point(swash.Ball{Bearing: spec.Phase, Radius: spec.RingRadius})
	link := units.Length(r3.Norm(r3.Sub(tip.Vec(), ring.Vec())))
	if !(link > 0) || !units.Finite(link) {
		return 0, &SpecError{Field: "link", Reason: fmt.Sprintf("length %v between the horn's ball and the ring's", link)}
	}
	return link, nil
}
