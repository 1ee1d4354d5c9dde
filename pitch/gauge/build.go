package gauge

import (
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// build is a rig with its parameters off by x, its plate where some position of the sticks
// put it. The blades share all but their pitch horns and pitch links. It is used again and
// again by one goroutine: set changes what the parameters are off by, and stand moves the
// sticks.
type build struct {
	model     *model
	spec      setup.Parts
	mechanism swash.Mechanism
	chains    swash.BellCrankSpec // of cranks, on a machine that has them
	cranks    []*crank
	grips     []*pitch.Grip // of each blade
	x         []float64
	ready     bool // all is as x says

	at   position
	arms []units.Angle
	pose swash.Pose

	// Of the pose, filled by effects.
	perArm, perRadius, perLink []swash.PoseRate

	legs   []swash.LegEffect
	turns  []swash.ArmEffect
	slopes []float64
}

// newBuild returns the build that the file says.
func (m *model) newBuild() (*build, error) {
	servos := len(m.mounts)
	b := &build{
		model:     m,
		spec:      m.rig.Parts(),
		grips:     make([]*pitch.Grip, m.blades),
		x:         make([]float64, len(m.params)),
		arms:      make([]units.Angle, servos),
		perArm:    make([]swash.PoseRate, servos),
		perRadius: make([]swash.PoseRate, servos),
		perLink:   make([]swash.PoseRate, len(m.links)),
		legs:      make([]swash.LegEffect, servos),
		turns:     make([]swash.ArmEffect, servos),
		slopes:    make([]float64, 0, len(m.links)),
	}
	if file, ok := m.rig.Head().Control.Mechanism().(*swash.BellCranks); ok {
		var err error
		if b.chains, b.cranks, err = newCranks(file, &b.spec); err != nil {
			return nil, err
		}
	}
	return b, b.set(b.x)
}

// set makes the parameters off by x. The errors are those of swash.NewPlate,
// swash.NewBellCranks and pitch.NewGrip.
func (b *build) set(x []float64) error {
	if b.ready && slices.Equal(x, b.x) {
		return nil
	}
	b.ready = false
	copy(b.x, x)
	m := b.model
	for i, off := range m.of(ServoLink, x) {
		b.spec.SetLink(i, units.Length(m.links[i]+off))
	}
	if err := b.assemble(x); err != nil {
		return err
	}
	file := m.rig.Head().Grip.Spec()
	for i := range b.grips {
		spec := file
		for _, p := range []struct {
			size *units.Length
			off  []float64
			i    int
		}{{&spec.HubHeight, m.of(HubHeight, x), 0}, {&spec.Link, m.of(PitchLink, x), i}, {&spec.Horn, m.of(HornRadius, x), i}} {
			if len(p.off) > 0 {
				*p.size += units.Length(p.off[p.i])
			}
		}
		var err error
		if b.grips[i], err = pitch.NewGrip(spec, b.spec.Neutral); err != nil {
			return err
		}
	}
	b.ready = true
	return nil
}

// assemble puts together what stands between the servos and the plate.
func (b *build) assemble(x []float64) (err error) {
	m := b.model
	if b.spec.Plate.Legs != nil {
		for i, off := range m.of(ArmRadius, x) {
			b.spec.Plate.Legs[i].Arm.Radius = units.Length(m.arms[i] + off)
		}
		b.mechanism, err = swash.NewPlate(b.spec.Plate)
		return err
	}
	for i, off := range m.of(ServoLink, x) {
		b.cranks[i].link = m.links[i] + off
	}
	b.mechanism, err = swash.NewBellCranks(b.chains)
	return err
}

// stand moves the sticks to a position. The errors are those of the mechanism's Pose.
func (b *build) stand(at position) (err error) {
	m := b.model
	b.at = at
	centre, travel := m.of(ServoCentre, b.x), m.of(ServoTravel, b.x)
	for i := range b.arms {
		arm := m.mounts[i]
		turn := b.turn(i)
		if len(travel) > 0 {
			turn += turn * travel[i]
		}
		if len(centre) > 0 {
			arm += centre[i]
		}
		b.arms[i] = units.Angle(arm + turn)
	}
	b.pose, err = b.mechanism.Pose(b.arms)
	return err
}

// turn returns the turn of an arm from its centre, but for what its travel is off by.
func (b *build) turn(i int) float64 {
	at, turn := &b.at[i], b.at[i].turn
	if low := b.model.of(LowEnd, b.x); len(low) > 0 {
		turn += low[i] * at.perLow
	}
	if high := b.model.of(HighEnd, b.x); len(high) > 0 {
		turn += high[i] * at.perHigh
	}
	return turn
}

// effects works out what the parameters under the plate do to its pose. The errors are those
// of swash.Plate.LegEffects and swash.BellCranks.Effects.
func (b *build) effects() error {
	switch m := b.mechanism.(type) {
	case *swash.Plate:
		if err := m.LegEffects(b.legs, b.pose, b.arms); err != nil {
			return err
		}
		for i := range b.legs {
			b.perArm[i], b.perRadius[i], b.perLink[i] = b.legs[i].PerArm, b.legs[i].PerRadius, b.legs[i].PerLink
		}
	case *swash.BellCranks:
		if err := m.Effects(b.turns, b.pose, b.arms); err != nil {
			return err
		}
		link := 0
		for i := range b.turns {
			b.perArm[i] = b.turns[i].PerArm
			linked, ok := m.Chain(i).(linkage.Linked)
			if !ok {
				continue // levers alone have no links
			}
			slopes, err := linked.LinkSlopes(b.slopes[:0], float64(b.arms[i]))
			if err != nil {
				return &swash.LegError{Leg: i, Err: err}
			}
			for _, s := range slopes {
				b.perLink[link] = [3]swash.PoseRate{{Height: s}, {Right: s}, {Forward: s}}[i]
				link++
			}
		}
	}
	return nil
}
