package gauge

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Quantity is what can be measured on a machine.
type Quantity int

// The quantities, all of them angles; above 0 is leading edge up, right side low, front low,
// and ball up.
const (
	BladePitch  Quantity = iota // of a blade
	TiltRight                   // of the swashplate, to the right
	TiltForward                 // of the swashplate, forward
	ArmAngle                    // of a servo's arm from its drawn neutral direction
)

func (q Quantity) String() string {
	switch q {
	case BladePitch:
		return "blade pitch"
	case TiltRight:
		return "tilt to the right"
	case TiltForward:
		return "tilt forward"
	case ArmAngle:
		return "arm angle"
	}
	return "unknown quantity"
}

// sight is one quantity of a build as it stands.
type sight struct {
	of      Quantity
	blade   int         // for BladePitch
	bearing units.Angle // of the blade
	servo   int         // for ArmAngle
}

// value returns a quantity. The errors are those of pitch.Grip.Pitch.
func (b *build) value(s *sight) (units.Angle, error) {
	switch s.of {
	case BladePitch:
		return b.grips[s.blade].Pitch(s.bearing, b.pose)
	case TiltRight:
		return b.pose.Tilt.Right, nil
	case TiltForward:
		return b.pose.Tilt.Forward, nil
	}
	return b.arms[s.servo], nil
}

// slope returns a quantity, and puts into dst its derivatives over what the parameters
// are off by: analytic, by the chain rule, the radio's steps aside. It uses what effects
// has worked out. The errors are those of pitch.Grip.Effect.
func (b *build) slope(dst []float64, s *sight) (units.Angle, error) {
	clear(dst)
	switch s.of {
	case TiltRight:
		b.underPlate(dst, swash.PoseRate{Right: 1})
		return b.pose.Tilt.Right, nil
	case TiltForward:
		b.underPlate(dst, swash.PoseRate{Forward: 1})
		return b.pose.Tilt.Forward, nil
	case ArmAngle:
		b.perServo(dst, s.servo, 1)
		return b.arms[s.servo], nil
	}
	e, err := b.grips[s.blade].Effect(s.bearing, b.pose)
	if err != nil {
		return 0, err
	}
	b.underPlate(dst, e.PerPose)
	b.abovePlate(dst, s.blade, &e)
	return e.Pitch, nil
}

// underPlate puts into dst the derivatives of a quantity that has the given ones over
// the pose.
func (b *build) underPlate(dst []float64, perPose swash.PoseRate) {
	m := b.model
	for i, pose := range b.perArm {
		b.perServo(dst, i, pose.Dot(perPose))
	}
	for i := range m.of(ArmRadius, dst) {
		m.of(ArmRadius, dst)[i] = b.perRadius[i].Dot(perPose)
	}
	for i := range m.of(ServoLink, dst) {
		m.of(ServoLink, dst)[i] = b.perLink[i].Dot(perPose)
	}
}

// perServo puts into dst the derivatives over servo i of a quantity that has the given
// one over its arm's angle.
func (b *build) perServo(dst []float64, i int, perArm float64) {
	m := b.model
	travel := 1.
	if g := m.of(ServoTravel, b.x); len(g) > 0 {
		travel += g[i]
	}
	for _, p := range [...]struct {
		kind  Kind
		slope float64
	}{
		{ServoCentre, 1},
		{ServoTravel, b.turn(i)},
		{LowEnd, travel * b.at[i].perLow},
		{HighEnd, travel * b.at[i].perHigh},
	} {
		if d := m.of(p.kind, dst); len(d) > 0 {
			d[i] = perArm * p.slope
		}
	}
}

// abovePlate puts into dst the derivatives of one blade's pitch over what is above the
// plate.
func (b *build) abovePlate(dst []float64, blade int, e *pitch.Effect) {
	m := b.model
	for _, p := range [...]struct {
		kind  Kind
		i     int
		slope float64
	}{
		{HubHeight, 0, e.PerHubHeight},
		{PitchLink, blade, e.PerLink},
		{HornRadius, blade, e.PerHorn},
	} {
		if d := m.of(p.kind, dst); len(d) > 0 {
			d[p.i] = p.slope
		}
	}
}
