package choose

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Fit is what a candidate asks to be done on one servo.
type Fit struct {
	Servo   string
	Changed bool             // else all is left as it is
	Arm     units.Length     // hole radius
	Teeth   int              // to move the arm by on its spline from where it sits now; above 0 raises the ball
	SubTrim units.PulseWidth // to set
	Link    units.Length     // between ball centres
}

// HornFit is what a candidate asks to be done on the rotating side.
type HornFit struct {
	Radius    units.Length
	Link      units.Length // between ball centres
	HalfTurns int          // of one end of the link, from its present length; above 0 makes it longer
}

// fitting makes a machine of a candidate.
type fitting struct {
	rig   *setup.Rig
	parts setup.Parts
	frame swash.Frame // of the level plate at neutral
}

func newFitting(rig *setup.Rig) *fitting {
	f := &fitting{rig: rig, parts: rig.Parts()}
	f.frame = swash.Pose{Height: f.parts.Neutral}.Frame(f.parts.Plate.Guide)
	return f
}

// build returns the rig of a candidate, its modes without targets not yet set, and
// what is to be done for it. The rig is the machine's own where that is nothing.
func (f *fitting) build(c *Candidate) (rig *setup.Rig, fits []Fit, horn HornFit, err error) {
	legs := f.parts.Plate.Legs
	horn = HornFit{Radius: cmp.Or(c.Horn, f.parts.Grip.Horn), Link: f.parts.Grip.Link}
	switch n := len(f.rig.Servos); {
	case c.Arms != nil && len(c.Arms) != n:
		return nil, nil, horn, &InputError{"arms", -1, fmt.Sprintf("%d of them for %d servos", len(c.Arms), n)}
	case legs == nil && (c.Arms != nil || c.Teeth != 0 || c.Ball != 0 || c.Link != 0):
		return nil, nil, horn, errBellCranks
	}
	m, plate := *f.rig.Machine, f.parts.Plate
	m.Plate.Legs, plate.Legs = slices.Clone(m.Plate.Legs), slices.Clone(legs)
	present := horn.Radius == f.parts.Grip.Horn
	for i := range legs {
		fit, err := f.leg(&m.Plate.Legs[i], &plate.Legs[i], i, c)
		if err != nil {
			return nil, nil, horn, &ServoError{f.rig.Servos[i].Name, err}
		}
		fits = append(fits, fit)
		present = present && !fit.Changed
	}
	if present {
		return f.rig, fits, horn, nil
	}
	stands := f.parts.Neutral
	if legs != nil {
		built, err := swash.NewPlate(plate)
		if err != nil {
			return nil, fits, horn, err
		}
		stands = built.Neutral().Height
	}
	if err := f.turn(&horn, stands); err != nil {
		return nil, fits, horn, err
	}
	m.Head.HornRadius, m.Head.Link = horn.Radius, &horn.Link
	m.Modes = slices.Clone(m.Modes)
	for i := range m.Modes {
		if mode := &m.Modes[i]; mode.Targets != nil {
			mode.Rates, mode.Pitch = nil, nil // to be solved for
		}
	}
	rig, err = m.Build()
	return rig, fits, horn, err
}

// leg puts a candidate's parts on a leg, as the machine file has it and as the plate
// is built of it.
func (f *fitting) leg(leg *setup.Leg, spec *swash.LegSpec, i int, c *Candidate) (Fit, error) {
	servo := f.parts.Servos[i]
	fit := Fit{Servo: f.rig.Servos[i].Name, Arm: spec.Arm.Radius, SubTrim: servo.SubTrim, Link: spec.Arm.Link}
	if c.Arms != nil {
		fit.Arm = c.Arms[i]
	}
	radius := spec.Ball.Radius
	if c.Ball != 0 {
		radius = c.Ball
	}
	same := fit.Arm == spec.Arm.Radius && radius == spec.Ball.Radius && c.Teeth == 0 && (c.Link == 0 || c.Link == fit.Link)
	if same && !c.Refit {
		return fit, nil
	}
	fit.Changed = true
	spec.Ball.Radius, spec.Arm.Radius = radius, fit.Arm
	end := f.frame.Point(spec.Ball)
	stand, err := square(spec.Arm, end)
	if err != nil {
		return fit, err
	}
	spline := f.rig.Servos[i].Type.Spline
	stand += units.Angle(c.Teeth) * spline.Step()
	if fit.Teeth, _, err = spline.Square(servo.Mount - stand); err != nil {
		return fit, err
	}
	servo.Mount += units.Angle(fit.Teeth) * spline.Step()
	if fit.SubTrim, err = servo.SubTrimFor(stand); err != nil {
		return fit, err
	}
	arm, err := linkage.NewArm(spec.Arm)
	if err != nil {
		return fit, err
	}
	// The arm is drawn anew as it stands, radio steps and all, so that the plate is
	// level with all arms at 0.
	stand = servo.Arm(servo.Neutral + fit.SubTrim)
	tip, _ := arm.Ball(stand)
	if fit.Link = c.Link; fit.Link == 0 {
		fit.Link = units.Length(r3.Norm(r3.Sub(end.Vec(), tip.Vec())))
	}
	spec.Arm.Shaft, spec.Arm.Axis, spec.Arm.Link = arm.Shaft(), arm.Axis(), fit.Link
	spec.Arm.Neutral = linkage.Direction(r3.Sub(tip.Vec(), arm.Shaft().Vec()))
	leg.Servo.SubTrim, leg.Servo.Mount = fit.SubTrim, servo.Mount-stand
	leg.Upright = nil
	leg.Spatial = &setup.Spatial{
		Bearing:    spec.Ball.Bearing,
		BallRadius: spec.Ball.Radius,
		Offset:     spec.Ball.Offset,
		Shaft:      spec.Arm.Shaft,
		Axis:       spec.Arm.Axis,
		Neutral:    spec.Arm.Neutral,
		Arm:        spec.Arm.Radius,
		Link:       spec.Arm.Link,
	}
	return fit, nil
}

// square returns the angle, of the two, nearest to neutral at which an arm stands
// square to a link that ends at a ball, seen along the shaft. The error is a
// *SquareError where the ball is too near for that, a *linkage.ReachError where it is
// too far out of the arm's plane, or a *linkage.SpecError.
func square(spec linkage.ArmSpec, end linkage.Point) (units.Angle, error) {
	spec.Link = spec.Radius // any will do to place the shaft
	arm, err := linkage.NewArm(spec)
	if err != nil {
		return 0, err
	}
	// By Pythagoras, the arm's radius and the square link span to the ball.
	reach := r3.Norm(r3.Sub(end.Vec(), arm.Shaft().Vec()))
	gap := units.Length(reach) - spec.Radius
	if !(gap > 0) {
		return 0, &SquareError{spec.Radius, units.Length(reach)}
	}
	spec.Link = units.Length(math.Sqrt(float64(gap) * (reach + float64(spec.Radius))))
	if arm, err = linkage.NewArm(spec); err != nil {
		return 0, err
	}
	behind, err := arm.AngleTo(end, linkage.Behind)
	if err != nil {
		return 0, err
	}
	ahead, err := arm.AngleTo(end, linkage.Ahead)
	if math.Abs(float64(ahead)) < math.Abs(float64(behind)) {
		return ahead, err
	}
	return behind, err
}

// turn turns the pitch link by whole half turns from its present length, for a plate
// that stands at a height at neutral.
func (f *fitting) turn(horn *HornFit, stands units.Length) error {
	grip := f.parts.Grip
	grip.Horn = horn.Radius
	want, err := f.reads()
	if err != nil {
		return err
	}
	link, err := grip.LinkFor(want, stands)
	if err != nil {
		return err
	}
	thread, err := f.rig.Machine.Head.LinkThread.Pitch()
	if err != nil {
		return err
	}
	half := thread / 2
	turns := math.RoundToEven(float64((link - horn.Link) / half))
	horn.HalfTurns = int(turns)
	horn.Link += units.Length(turns) * half
	return nil
}

// reads returns what the gauge is to read with collective and cyclic at zero: the first
// target at mid stick, or else what it reads now.
func (f *fitting) reads() (units.Angle, error) {
	for _, mode := range f.rig.Machine.Modes {
		if mode.Targets == nil {
			continue
		}
		for _, target := range mode.Targets.Collective {
			if target.Stick == 0.5 {
				return target.Pitch, nil
			}
		}
	}
	head := f.rig.Head
	p, _, err := head.Blade(head.Control.NewState(), f.rig.Machine.Gauge.Bearing, swash.Demand{})
	return p, err
}
