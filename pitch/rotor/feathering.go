package rotor

import (
	"math"

	"example.org/levelhead/units"
)

// Limits of a blade's input.
const (
	maxBladeMass = 100 * units.Kilogram
	maxInertia   = units.Inertia(100)
	maxSpring    = 1e4 * units.NewtonMetre
)

// Blade holds a blade's moments of inertia about its feathering axis, and the spring that
// holds it. In them, x runs along the chord towards the leading edge, and z across the chord
// towards the upper side.
type Blade struct {
	Chordwise units.Inertia // sum of mass × x²
	Thickness units.Inertia // sum of mass × z²; small beside Chordwise
	Product   units.Inertia // sum of mass × x z; 0 for a symmetric section on its axis
	// Spring is the torque per radian by which dampers and straps pull the blade towards
	// the pitch Rest.
	Spring units.Torque
	Rest   units.Angle
}

// The section of NACA 00xx, solid and of one material, for a chord of 1: the
// thickness curve of E. N. Jacobs, K. E. Ward and R. M. Pinkerton, NACA Report 460
// (1933), integrated. The squared radius across is for a thickness of 1.
const (
	nacaCentroid  = 0.420435470137
	nacaChordwise = 0.0552044048711 // about the centroid
	nacaThickness = 0.0575221370751
)

// SymmetricBlade returns the inertia of a solid blade of one material with
// constant chord and NACA 00xx section. Thickness and axis are in chords, the
// axis from the leading edge. There is no spring.
func SymmetricBlade(mass units.Mass, chord units.Length, thickness, axis units.Ratio) (Blade, error) {
	if err := firstOf(
		within("mass", "blade mass (kg)", mass, 0, maxBladeMass),
		within("chord", "chord (m)", chord, 0, maxRadius),
		within("thickness", "thickness (chords)", thickness, 0, 1),
		within("axis", "axis (chords)", axis, 0, 1),
	); err != nil {
		return Blade{}, err
	}
	m, arm := float64(mass*units.Mass(chord*chord)), nacaCentroid-float64(axis)
	return Blade{
		Chordwise: units.Inertia(m * (nacaChordwise + arm*arm)),
		Thickness: units.Inertia(m * nacaThickness * float64(thickness*thickness)),
	}, nil
}

func (b Blade) validate() error {
	return firstOf(
		within("Chordwise", "blade: chordwise inertia (kg·m²)", b.Chordwise, 0, maxInertia),
		within("Thickness", "blade: thickness inertia (kg·m²)", b.Thickness, 0, maxInertia),
		within("Product", "blade: product of inertia (kg·m²)", b.Product, -maxInertia, maxInertia),
		within("Spring", "blade: spring (N·m/rad)", b.Spring, 0, maxSpring),
		within("Rest", "blade: rest (rad)", b.Rest, -maxPitch, maxPitch),
	)
}

// FlatteningMoment returns the moment on the blade about its feathering axis by
// which rotation pulls it flat. It is also called the propeller or tennis-racket moment. It is negative, leading edge down, at a positive pitch, grows with the
// square of the rotor speed, and depends neither on the blade's length nor on
// where the hub holds it:
//
//	-speed² ((Chordwise - Thickness) sin cos pitch + Product cos 2 pitch)
//
// The arguments are not checked.
func (b Blade) FlatteningMoment(pitch units.Angle, speed units.AngularSpeed) units.Torque {
	sin, cos := math.Sincos(float64(pitch))
	return units.Torque(-float64(speed*speed) *
		(float64(b.Chordwise-b.Thickness)*sin*cos + float64(b.Product)*(cos*cos-sin*sin)))
}

// Pitch is a blade's pitch over a revolution: a mean, and parts with the cosine
// and the sine of the blade's direction, which counts clockwise from the nose.
type Pitch struct {
	Collective, Cosine, Sine units.Angle
}

// At returns the pitch of the blade that points in a direction, clockwise from the nose.
func (p Pitch) At(bearing units.Angle) units.Angle {
	sin, cos := math.Sincos(float64(bearing))
	return p.Collective + p.Cosine*units.Angle(cos) + p.Sine*units.Angle(sin)
}

func (p Pitch) validate() error {
	return firstOf(
		within("Collective", "collective (rad)", p.Collective, -maxPitch, maxPitch),
		within("Cosine", "cosine pitch (rad)", p.Cosine, -maxPitch, maxPitch),
		within("Sine", "sine pitch (rad)", p.Sine, -maxPitch, maxPitch),
		within("", "greatest pitch (rad)", units.Angle(math.Abs(float64(p.Collective))+math.Hypot(float64(p.Cosine), float64(p.Sine))), 0, maxPitch),
	)
}

// Moment is a moment on one blade about its feathering axis over a revolution,
// as Pitch is a pitch. Positive raises the leading edge.
type Moment struct {
	Collective, Cosine, Sine units.Torque
}

// At returns the moment on the blade that points in a direction, clockwise from the nose.
func (m Moment) At(bearing units.Angle) units.Torque {
	sin, cos := math.Sincos(float64(bearing))
	return m.Collective + m.Cosine*units.Torque(cos) + m.Sine*units.Torque(sin)
}

func (m Moment) plus(o Moment) Moment {
	return Moment{m.Collective + o.Collective, m.Cosine + o.Cosine, m.Sine + o.Sine}
}

// Feathering holds the moments on one blade about its feathering axis. The pitch link holds
// the opposite of Total.
type Feathering struct {
	Flattening Moment
	// Inertial is the moment of the blade's own swing in pitch once per revolution.
	// For a flat blade it cancels the cyclic part of Flattening. Such a blade, tilted
	// together with its plane of rotation, needs no moment to stay in it.
	Inertial    Moment
	Aerodynamic Moment
	Spring      Moment
}

// Total returns the sum of the four moments.
func (f Feathering) Total() Moment {
	return f.Flattening.plus(f.Inertial).plus(f.Aerodynamic).plus(f.Spring)
}

// bearings is the number of blade directions over a revolution at which moments are taken. For blades below stall the parts left out are beyond the fifteenth
// harmonic.
const bearings = 16

func bearing(i int) units.Angle { return units.Angle(2 * math.Pi * float64(i) / bearings) }

// Feathering returns the moments on each blade about its feathering axis. The
// aerodynamic one is that of a rotor at the blade's momentary pitch that is not free to
// flap. It is an upper bound for what remains once the disc has followed the cyclic. It does
// not have the shift of lift past stall. The error is a [*units.FieldError]
// or a [*WakeError].
func (r *Rotor) Feathering(blade Blade, pitch Pitch, at Condition) (Feathering, error) {
	ratio, err := r.climbRatio(at)
	if err := firstOf(err, units.In("blade", "", blade.validate()), units.In("pitch", "", pitch.validate())); err != nil {
		return Feathering{}, err
	}
	var flat, air Moment
	for i := range bearings {
		psi := bearing(i)
		angle := pitch.At(psi)
		flat = flat.plus(part(blade.FlatteningMoment(angle, at.Speed), psi))
		if r.axis == 0 && r.spec.Section.Moment == 0 {
			continue // lift acts on the axis itself
		}
		loads, err := r.loads(angle, ratio, at)
		if err != nil {
			return Feathering{}, err
		}
		air = air.plus(part(loads.Feathering, psi))
	}
	swing := units.Torque(float64(blade.Chordwise+blade.Thickness) * float64(at.Speed*at.Speed))
	return Feathering{
		Flattening:  flat,
		Inertial:    Moment{0, swing * units.Torque(pitch.Cosine), swing * units.Torque(pitch.Sine)},
		Aerodynamic: air,
		Spring: Moment{
			blade.Spring * units.Torque(blade.Rest-pitch.Collective),
			-blade.Spring * units.Torque(pitch.Cosine),
			-blade.Spring * units.Torque(pitch.Sine),
		},
	}, nil
}

// part returns what the moment at one of the bearings adds to the Fourier parts.
func part(m units.Torque, psi units.Angle) Moment {
	sin, cos := math.Sincos(float64(psi))
	m /= bearings
	return Moment{m, 2 * m * units.Torque(cos), 2 * m * units.Torque(sin)}
}
