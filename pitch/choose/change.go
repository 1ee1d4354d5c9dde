package choose

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// ServoChange says what to do on one servo for a candidate.
type ServoChange struct {
	Servo   string           `json:"servo"`
	Changed bool             `json:"changed"`     // false where all stays as it is
	Arm     units.Length     `json:"arm_radius"`  // hole radius
	Teeth   int              `json:"teeth"`       // by which to move the arm on its spline from where it sits now; above 0 raises the ball
	SubTrim units.PulseWidth `json:"sub_trim"`    // to set
	Link    units.Length     `json:"link_length"` // between ball centres
}

// HornChange says what to do above the plate for a candidate: to the pitch horns and the
// pitch links, on every blade alike.
type HornChange struct {
	Radius    units.Length `json:"horn_radius"` // of the pitch horn's hole
	Link      units.Length `json:"link_length"` // of the pitch link, between ball centres
	HalfTurns int          `json:"half_turns"`  // of one end of the pitch link, from its present length; above 0 makes it longer
}

// builder puts candidates into a machine.
type builder struct {
	rig    *setup.Rig
	servos []setup.Servo
	parts  setup.Parts
	frame  swash.Frame // of the level plate at neutral
}

func newBuilder(rig *setup.Rig) *builder {
	b := &builder{rig: rig, servos: rig.Servos(), parts: rig.Parts()}
	b.frame = swash.Pose{Height: b.parts.Neutral}.Frame(b.parts.Plate.Guide)
	return b
}

// build returns the rig of a candidate and what must be done for it. The modes without
// targets are not set yet. The rig is the machine's own where nothing must be done.
func (b *builder) build(c *Candidate) (rig *setup.Rig, changes []ServoChange, horn HornChange, err error) {
	legs := b.parts.Plate.Legs
	horn = HornChange{Radius: cmp.Or(c.Horn, b.parts.Grip.Horn), Link: b.parts.Grip.Link}
	switch n := len(b.servos); {
	case c.Arms != nil && len(c.Arms) != n:
		return nil, nil, horn, refuse("Arms", "must be one for each of the %[2]d servos, not %[1]d", len(c.Arms), n)
	case legs == nil && c.Arms != nil:
		return nil, nil, horn, onBellCranks("Arms")
	case legs == nil && c.Teeth != 0:
		return nil, nil, horn, onBellCranks("Teeth")
	case legs == nil && c.Ball != 0:
		return nil, nil, horn, onBellCranks("Ball")
	case legs == nil && c.Link != 0:
		return nil, nil, horn, onBellCranks("Link")
	}
	m, plate := b.rig.Machine(), b.parts.Plate
	plate.Legs = slices.Clone(legs)
	present := horn.Radius == b.parts.Grip.Horn
	for i := range legs {
		change, err := b.leg(&m.Plate.Legs[i], &plate.Legs[i], i, c)
		if err != nil {
			return nil, nil, horn, &ServoError{b.servos[i].Name, err}
		}
		changes = append(changes, change)
		present = present && !change.Changed
	}
	if present {
		return b.rig, changes, horn, nil
	}
	stands := b.parts.Neutral
	if legs != nil {
		built, err := swash.NewPlate(plate)
		if err != nil {
			return nil, changes, horn, err
		}
		stands = built.Neutral().Height
	}
	if err := b.turn(&horn, stands); err != nil {
		return nil, changes, horn, err
	}
	m.Head.HornRadius, m.Head.Link = horn.Radius, &horn.Link
	for i := range m.Modes {
		if mode := &m.Modes[i]; mode.Targets != nil {
			mode.Rates, mode.Pitch = nil, nil // to be solved for
		}
	}
	rig, err = setup.Build(m)
	return rig, changes, horn, err
}

// leg puts a candidate's parts on leg i: on leg as the machine file has it, and on spec as
// the plate is built from it.
func (b *builder) leg(leg *machine.Leg, spec *swash.LegSpec, i int, c *Candidate) (ServoChange, error) {
	servo := b.parts.Servos[i]
	change := ServoChange{Servo: b.servos[i].Name, Arm: spec.Arm.Radius, SubTrim: servo.SubTrim, Link: spec.Arm.Link}
	if c.Arms != nil {
		change.Arm = c.Arms[i]
	}
	radius := spec.Ball.Radius
	if c.Ball != 0 {
		radius = c.Ball
	}
	same := change.Arm == spec.Arm.Radius && radius == spec.Ball.Radius && c.Teeth == 0 && (c.Link == 0 || c.Link == change.Link)
	if same && !c.Refit {
		return change, nil
	}
	change.Changed = true
	spec.Ball.Radius, spec.Arm.Radius = radius, change.Arm
	end := b.frame.Point(spec.Ball)
	stand, err := square(spec.Arm, end)
	if err != nil {
		return change, err
	}
	spline := b.servos[i].Type.Spline
	stand += units.Angle(c.Teeth) * spline.Step()
	if change.Teeth, _, err = spline.Square(servo.Mount - stand); err != nil {
		return change, err
	}
	servo.Mount += units.Angle(change.Teeth) * spline.Step()
	if change.SubTrim, err = servo.SubTrimFor(stand); err != nil {
		return change, err
	}
	arm, err := linkage.NewArm(spec.Arm)
	if err != nil {
		return change, err
	}
	// The arm's angle 0 is put where it now stands, radio steps included, so that the
	// plate is level with all arms at 0.
	stand = servo.Arm(servo.Neutral + change.SubTrim)
	tip, _ := arm.Ball(stand)
	if change.Link = c.Link; change.Link == 0 {
		change.Link = units.Length(r3.Norm(r3.Sub(end.Vec(), tip.Vec())))
	}
	spec.Arm.Shaft, spec.Arm.Axis, spec.Arm.Link = arm.Shaft(), arm.Axis(), change.Link
	spec.Arm.Neutral = linkage.Direction(r3.Sub(tip.Vec(), arm.Shaft().Vec()))
	leg.Servo.SubTrim, leg.Servo.Mount = change.SubTrim, servo.Mount-stand
	leg.Upright = nil
	leg.Spatial = &machine.Spatial{
		Bearing:    spec.Ball.Bearing,
		BallRadius: spec.Ball.Radius,
		Offset:     spec.Ball.Offset,
		Shaft:      spec.Arm.Shaft,
		Axis:       spec.Arm.Axis,
		Neutral:    spec.Arm.Neutral,
		Arm:        spec.Arm.Radius,
		Link:       spec.Arm.Link,
	}
	return change, nil
}

// square returns the angle at which an arm stands square to a link that ends at a ball,
// seen along the shaft: of the two such angles, the one nearer to neutral. The error is a
// *SquareError where the ball is too near for that, a *linkage.ReachError where it is
// too far out of the arm's plane, or a *units.FieldError.
func square(spec linkage.ArmSpec, end linkage.Point) (units.Angle, error) {
	spec.Link = spec.Radius // any length places the shaft
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

// turn turns the pitch link by whole half turns from its present length, so that the gauge
// reads with the plate level at neutral what it reads now. The plate then stands at the
// height given.
func (b *builder) turn(horn *HornChange, stands units.Length) error {
	grip := b.parts.Grip
	grip.Horn = horn.Radius
	want, err := b.rig.Head().Grip.Pitch(b.rig.Gauge().Bearing, swash.Pose{Height: b.parts.Neutral})
	if err != nil {
		return err
	}
	link, err := grip.LinkFor(want, stands)
	if err != nil {
		return err
	}
	thread, err := b.rig.Machine().Head.LinkThread.Pitch()
	if err != nil {
		return err
	}
	half := thread / 2
	turns := math.RoundToEven(float64((link - horn.Link) / half))
	horn.HalfTurns = int(turns)
	horn.Link += units.Length(turns) * half
	return nil
}
