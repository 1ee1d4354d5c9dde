package pitch

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Rotation is the rotor's direction of rotation as seen from above. There is no default.
type Rotation string

// The directions of rotation.
const (
	Clockwise        Rotation = "clockwise"
	CounterClockwise Rotation = "counter-clockwise"
)

// Side is the side of the feathering axis on which the pitch horn stands: with the blade's
// leading edge or with its trailing edge. There is no default.
type Side string

// The sides of a blade.
const (
	Leading  Side = "leading"
	Trailing Side = "trailing"
)

// GripSpec describes the rotating side from the rotating ring of the swashplate to one blade.
// All blades are alike. Bearings count from the nose, clockwise seen from above, whichever way
// the rotor turns.
type GripSpec struct {
	RingRadius units.Length // from the plate's axis to the ring's balls, more than 0
	RingOffset units.Length // of the ring's balls along the plate's normal, positive above the plate's centre
	Phase      units.Angle  // the bearing of the blade's ball on the ring minus that of the blade
	RingDriver units.Angle  // the bearing of the ring driver (scissors, washout driver) minus that of the blade
	HubHeight  units.Length // of the feathering axis on the mast, in the frame of the plate's height
	Horn       units.Length // from the feathering axis to the pitch horn's ball, more than 0
	HornX      units.Length // from the mast to the pitch horn's ball, along the blade
	Rest       units.Angle  // turn of the pitch horn from level at zero blade pitch, in the sense of positive pitch
	Link       units.Length // between the ball centres of the pitch link, more than 0
	Rotation   Rotation
	Side       Side      // where the pitch horn stands
	Mixer      MixingArm // of a flybar head; the zero value is none
}

// Grip is one blade: its pitch horn, its pitch link and the rotating ring below. It never
// changes, and is safe for use by several goroutines.
//
// It calculates in the blade's own frame, which has the blade at the nose:
// there the horn and the ring's balls keep still, and the plate's tilt turns.
type Grip struct {
	spec   GripSpec
	horn   linkage.Arm
	branch linkage.Branch
	ball   swash.Ball    // on the ring
	driver swash.Guide   // of the ring
	home   linkage.Point // of the ring's ball, on the level plate at neutral
	// plateShare and barShare are those of the mixing arm.
	plateShare, barShare float64
}

// NewGrip returns the blade that spec describes, over a plate with the given neutral height:
// of the two pitches at which the link fits there, the one nearer to zero. The error is
// a *units.FieldError, or a *GripError where the link does not fit at neutral.
func NewGrip(spec GripSpec, neutral units.Length) (*Grip, error) {
	for _, l := range []struct {
		name     string
		value    units.Length
		positive bool
	}{
		{"RingRadius", spec.RingRadius, true}, {"RingOffset", spec.RingOffset, false},
		{"HubHeight", spec.HubHeight, false}, {"Horn", spec.Horn, true}, {"HornX", spec.HornX, false},
		{"Link", spec.Link, true}, {"neutral", neutral, false},
	} {
		if !units.Finite(l.value) {
			return nil, refuse(l.name, "must be finite, not %v", l.value)
		}
		if l.value > swash.MaxLength || l.value < -swash.MaxLength {
			return nil, refuse(l.name, "must be within ±%v, not %v", swash.MaxLength, l.value)
		}
		if l.positive && l.value <= 0 {
			return nil, refuse(l.name, "must be more than 0 mm, not %v", l.value)
		}
	}
	for _, a := range []struct {
		name  string
		value units.Angle
	}{{"Phase", spec.Phase}, {"RingDriver", spec.RingDriver}, {"Rest", spec.Rest}} {
		if !units.Finite(a.value) {
			return nil, refuse(a.name, "must be finite, not %v", a.value)
		}
	}
	if err := spec.Mixer.validate(); err != nil {
		return nil, err
	}
	horn, err := spec.hornArm()
	if err != nil {
		return nil, err
	}
	g := &Grip{
		spec:   spec,
		horn:   horn,
		ball:   spec.ball(),
		driver: swash.GuideAt(spec.RingDriver),
	}
	g.plateShare, g.barShare = spec.Mixer.Shares()
	level := swash.Pose{Height: neutral}.Frame(g.driver)
	g.home = level.Point(g.ball)
	return g, g.settle()
}

// ball returns the blade's ball on the ring, seen from the blade.
func (spec *GripSpec) ball() swash.Ball {
	return swash.Ball{Bearing: spec.Phase, Radius: spec.RingRadius, Offset: spec.RingOffset}
}

// hornArm returns the horn of the blade at the nose, as an arm whose angle is
// blade pitch plus rest angle.
func (spec *GripSpec) hornArm() (linkage.Arm, error) {
	leading := float64(spec.leading())
	switch spec.Rotation {
	case Clockwise, CounterClockwise:
	default:
		return linkage.Arm{}, refuse("Rotation", "must be %q or %q, not %q", Clockwise, CounterClockwise, spec.Rotation)
	}
	toward := leading
	switch spec.Side {
	case Leading:
	case Trailing:
		toward = -leading
	default:
		return linkage.Arm{}, refuse("Side", "must be %q or %q, not %q", Leading, Trailing, spec.Side)
	}
	arm, err := linkage.NewArm(linkage.ArmSpec{
		Shaft:   linkage.Point{Y: spec.HornX, Z: spec.HubHeight},
		Axis:    linkage.Direction{Y: -leading}, // positive turns lift the leading edge
		Neutral: linkage.Direction{X: toward},
		Radius:  spec.Horn,
		Link:    spec.Link,
	})
	if err != nil {
		return linkage.Arm{}, hornError(err)
	}
	return arm, nil
}

// hornError returns the error of the field of a GripSpec that the arm of the horn has from
// there.
func hornError(err error) error {
	e := units.In("", "pitch: horn cannot be built, since its ", err)
	if arm, ok := e.(*units.FieldError); ok {
		of := units.FieldNames{"Shaft.Y": "HornX", "Shaft.Z": "HubHeight", "Radius": "Horn", "Link": "Link"}
		arm.Field, _ = of.Of(arm.Field, 0)
	}
	return e
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

// Spec returns the description from which NewGrip made the grip.
func (g *Grip) Spec() GripSpec { return g.spec }

// Pitch returns the pitch of the blade at a bearing, with the plate in a
// pose: positive with the leading edge up. A flybar (stabilizer bar), where there is one, is
// held level. The bearing counts from the nose, clockwise seen from above. The error is a
// *GripError where the link does not fit, or a *units.FieldError for a number that is not
// finite or a tilt of 90° or more.
func (g *Grip) Pitch(bearing units.Angle, pose swash.Pose) (units.Angle, error) {
	return g.PitchWithBar(bearing, pose, 0)
}

// PitchWithBar is Pitch with the flybar teetered about the blade's own
// direction: positive where the end on the side of the leading edge is up.
func (g *Grip) PitchWithBar(bearing units.Angle, pose swash.Pose, teeter units.Angle) (units.Angle, error) {
	frame, _, _, err := g.frame(bearing, pose)
	if err != nil {
		return 0, err
	}
	if !units.Finite(teeter) {
		return 0, refuse("teeter", "must be finite, not %v", teeter)
	}
	lower, _ := g.lower(frame.Point(g.ball), teeter)
	return g.pitchTo(bearing, lower)
}

// lower returns the lower ball of the pitch link for a position of the ring's
// ball and a teeter of the bar, and its derivative over the teeter: the ring's
// ball itself, unless a mixing arm lies between.
func (g *Grip) lower(ring linkage.Point, teeter units.Angle) (at, perTeeter linkage.Point) {
	if g.plateShare == 1 && g.barShare == 0 {
		return ring, linkage.Point{}
	}
	plate, bar := units.Length(g.plateShare), units.Length(g.barShare)
	end, slope := g.spec.Mixer.end(teeter, g.spec.leading())
	return linkage.Point{
		X: g.home.X + plate*(ring.X-g.home.X) + bar*end.X,
		Y: g.home.Y + plate*(ring.Y-g.home.Y),
		Z: g.home.Z + plate*(ring.Z-g.home.Z) + bar*end.Z,
	}, linkage.Point{X: bar * slope.X, Z: bar * slope.Z}
}

// leading is +1 where the leading edge of the blade at the nose is to the right.
func (spec *GripSpec) leading() units.Length {
	if spec.Rotation == CounterClockwise {
		return -1
	}
	return 1
}

func (g *Grip) pitchTo(bearing units.Angle, lower linkage.Point) (units.Angle, error) {
	q, err := g.horn.AngleTo(lower, g.branch)
	if err != nil {
		return 0, &GripError{bearing, err}
	}
	return linkage.Wrap(q - g.spec.Rest), nil
}

// frame returns the ring's frame as the blade at a bearing sees it, and the
// sine and cosine of that bearing.
func (g *Grip) frame(bearing units.Angle, p swash.Pose) (f swash.Frame, sin, cos float64, err error) {
	if g == nil || g.spec.Horn == 0 {
		return f, 0, 0, errNoGrip
	}
	if !units.Finite(bearing) {
		return f, 0, 0, refuse("bearing", "must be finite, not %v", bearing)
	}
	if err := checkPose(p); err != nil {
		return f, 0, 0, err
	}
	sin, cos = math.Sincos(float64(bearing))
	return g.seen(p, sin, cos), sin, cos, nil
}

// checkPose reports a pose that no plate can take, as a *units.FieldError.
func checkPose(p swash.Pose) error {
	err := p.Validate()
	if err == nil {
		return nil
	}
	e := units.In("pose", "", err).(*units.FieldError)
	e.Words, e.Err = "pitch: pose", err
	return e
}

// seen is frame for the sine and cosine of a bearing, without its checks.
func (g *Grip) seen(p swash.Pose, sin, cos float64) swash.Frame {
	right, forward := float64(p.Tilt.Right), float64(p.Tilt.Forward)
	p.Tilt = swash.Tilt{
		Right:   units.Angle(right*cos - forward*sin),
		Forward: units.Angle(right*sin + forward*cos),
	}
	return p.Frame(g.driver)
}

// Effect tells what small changes do to the pitch of one blade, each alone. The derivatives
// are analytic. A positive one means more pitch for more of the thing.
type Effect struct {
	Pitch        units.Angle    // positive with the leading edge up
	PerPose      swash.PoseRate // of the pitch: rad/m of plate height, rad/rad of tilt to the right and forward
	PerLink      float64        // rad/m of pitch link
	PerHorn      float64        // rad/m of pitch horn radius
	PerHubHeight float64        // rad/m of hub height
	PerTeeter    float64        // rad/rad of the flybar's teeter, from level; 0 without a flybar
	// Margin is the lever of the pitch link about the feathering axis over the pitch
	// horn's radius: 0 is a dead centre. It is 1 only where link and horn are square and
	// the link lies in the plane in which the horn turns; a link 20° out of it leaves 0.94.
	Margin float64
}

// Effect returns the pitch of the blade at a bearing and its derivatives. The bearing counts
// from the nose, clockwise seen from above. The errors are those of Pitch, and a *GripError
// around a *swash.DeadCentreError.
func (g *Grip) Effect(bearing units.Angle, pose swash.Pose) (Effect, error) {
	frame, sin, cos, err := g.frame(bearing, pose)
	if err != nil {
		return Effect{}, err
	}
	return g.effect(bearing, sin, cos, &frame)
}

// effect is Effect with the ring's frame as the blade sees it.
func (g *Grip) effect(bearing units.Angle, sin, cos float64, frame *swash.Frame) (Effect, error) {
	ring, perRight, perForward := frame.Slopes(g.ball)
	lower, perTeeter := g.lower(ring, 0)
	pitch, err := g.pitchTo(bearing, lower)
	if err != nil {
		return Effect{}, err
	}
	tip, slope := g.horn.Ball(pitch + g.spec.Rest)
	spoke := r3.Sub(tip.Vec(), g.horn.Shaft().Vec())
	w := r3.Unit(r3.Sub(tip.Vec(), lower.Vec())) // along the link, up to the horn
	lever, radius := r3.Dot(w, slope.Vec()), float64(g.spec.Horn)
	margin := math.Abs(lever) / radius
	if !(margin > deadCentre) {
		return Effect{}, &GripError{bearing, &swash.DeadCentreError{Margin: margin}}
	}
	m := g.plateShare / lever
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
		PerTeeter:    r3.Dot(w, perTeeter.Vec()) / lever,
		Margin:       margin,
	}, nil
}

// deadCentre is the margin below which the horn counts as at a dead centre.
const deadCentre = 1e-6

// LinkFor returns the length of the pitch link, between ball centres, that puts the blade at
// the given pitch on the level plate at neutral height: cut the link to that. The spec's own
// Link does not matter. The errors are those of NewGrip.
func (spec GripSpec) LinkFor(pitch units.Angle, neutral units.Length) (units.Length, error) {
	spec.Link = spec.Horn // any length will do to place the horn
	horn, err := spec.hornArm()
	if err != nil {
		return 0, err
	}
	tip, _ := horn.Ball(pitch + spec.Rest)
	frame := swash.Pose{Height: neutral}.Frame(swash.GuideAt(spec.RingDriver))
	ring := frame.Point(spec.ball())
	link := units.Length(r3.Norm(r3.Sub(tip.Vec(), ring.Vec())))
	if !(link > 0) || !units.Finite(link) {
		return 0, refuse("Link", "must be more than 0 mm, and the pitch horn's ball is %v from the ring's; move one of them", link)
	}
	return link, nil
}
