package rotor

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.org/levelhead/units"
)

// TipLoss is a model of the lift lost at the blade's tip.
type TipLoss int

const (
	// Prandtl is the loss of a helical wake of finitely many sheets: it grows with
	// the load and falls with the number of blades.
	Prandtl TipLoss = iota
	// EffectiveRadius takes all lift off the outermost half chord (W. Castles
	// and R. B. Gray, NACA TN 2474, 1951, p. 29). The drag there stays.
	EffectiveRadius
	// NoTipLoss lets the lift go on to the tip.
	NoTipLoss
)

func (l TipLoss) String() string {
	switch l {
	case Prandtl:
		return "Prandtl"
	case EffectiveRadius:
		return "effective radius"
	case NoTipLoss:
		return "none"
	}
	return fmt.Sprintf("TipLoss(%d)", int(l))
}

// Limits of input, far wider than any model helicopter needs.
const (
	minRadius, maxRadius   = 1 * units.Centimetre, 100 * units.Metre
	minDensity, maxDensity = Density(0.01), Density(100)
	maxVelocity            = units.Velocity(1000)
	maxThrust              = 1e9 * units.Newton
	maxSpeed               = 1e6 * units.RevolutionPerMinute

	// maxPitch is the greatest pitch, of either sign, that is looked at.
	maxPitch = 30 * units.Degree
	// maxClimbRatio is the greatest axial speed, in tip speeds: beyond, the flow
	// angles are no longer small.
	maxClimbRatio = 0.2
	// maxUnsteady is the greatest share of the load that annuli without a steady wake can
	// carry, so that a small piece at the root does not spoil the rest.
	maxUnsteady = 0.01
)

// Spec describes a rotor.
type Spec struct {
	Blades  int          // from 1 to 12
	Radius  units.Length // from the mast's axis to the tip
	Cutout  units.Length // from the axis to where the blade begins to lift
	Chord   units.Length // at 0.75 Radius
	Taper   units.Ratio  // chord at the axis over chord at the tip, changing evenly; 0 or 1 for a constant chord
	Twist   units.Angle  // pitch at the tip minus pitch at the axis, changing evenly; below 0 for washout
	Axis    units.Ratio  // feathering axis behind the leading edge, in chords; 0 stands for the quarter chord
	Section Section
	TipLoss TipLoss
}

func (s Spec) validate() error {
	if err := firstOf(
		within("Blades", "blades", float64(s.Blades), 1, 12),
		within("Radius", "radius (m)", s.Radius, minRadius, maxRadius),
		within("Chord", "chord (m)", s.Chord, s.Radius/1000, s.Radius/2),
		within("Taper", "taper", s.Taper, 0, 20),
		within("Twist", "twist (rad)", s.Twist, -maxPitch, maxPitch),
		within("Axis", "axis (chords)", s.Axis, 0, 1),
		within("TipLoss", "tip loss", float64(s.TipLoss), float64(Prandtl), float64(NoTipLoss)),
		units.In("Section", "", s.Section.validate()),
	); err != nil {
		return err
	}
	// Blades wider than this leave no effective radius.
	return within("Cutout", "cutout (m)", s.Cutout, 0, 0.7*s.Radius)
}

// nodes is the number of annuli, and tipNodes that of those beyond an effective
// radius. The sum over them is exact to 1e-12 while the blade is all below stall,
// and to 2e-4 where a part of it is stalled.
const (
	nodes    = 40
	tipNodes = 8
)

// Rotor works out the loads of a rotor. Several goroutines can use it at the same time.
type Rotor struct {
	spec   Spec
	axis   float64 // chords from the quarter chord back to the feathering axis
	annuli []annulus
}

// New returns the rotor that s describes. The error is a [*units.FieldError].
func New(s Spec) (*Rotor, error) {
	if err := s.validate(); err != nil {
		return nil, err
	}
	if s.Taper == 0 {
		s.Taper = 1
	}
	if s.Axis == 0 {
		s.Axis = quarterChord
	}
	r := &Rotor{spec: s, axis: float64(s.Axis - quarterChord)}
	root, tip := float64(s.Cutout/s.Radius), 1.0
	if s.TipLoss == EffectiveRadius {
		tip -= r.chord(1) / 2
		r.add(tip, 1, tipNodes, func(float64) float64 { return 0 })
	}
	r.add(root, tip, nodes, func(x float64) float64 {
		if s.TipLoss == Prandtl {
			return float64(s.Blades) / 2 * (1 - x)
		}
		return math.Inf(1)
	})
	return r, nil
}

const quarterChord units.Ratio = 0.25

// chord returns the chord at x, both in radii.
func (r *Rotor) chord(x float64) float64 {
	taper := float64(r.spec.Taper)
	shape := func(x float64) float64 { return taper + (1-taper)*x }
	return float64(r.spec.Chord/r.spec.Radius) * shape(x) / shape(0.75)
}

// add cuts the blade from lo to hi, in radii, into n annuli. They crowd towards
// hi as x = hi - (hi-lo) s², which takes the edge off a loss that falls to zero
// there as a square root.
func (r *Rotor) add(lo, hi float64, n int, lossScale func(x float64) float64) {
	s, weight := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(s, weight, 0, 1)
	for i, s := range s {
		x := hi - (hi-lo)*s*s
		chord := r.chord(x)
		r.annuli = append(r.annuli, annulus{
			x:         x,
			weight:    weight[i] * 2 * (hi - lo) * s,
			solidity:  float64(r.spec.Blades) * chord / math.Pi,
			chord:     chord,
			twist:     float64(r.spec.Twist)*(x-0.75) - float64(r.spec.Section.ZeroLift),
			lossScale: lossScale(x),
		})
	}
}

// Spec returns the rotor's description. Values that 0 stands for are filled in.
func (r *Rotor) Spec() Spec { return r.spec }

// Coefficients are the loads of a rotor as pure numbers, as modern texts define them. Thrust
// is divided by density × disc area × (tip speed)², torque by that times radius, and power by
// that times tip speed, which gives the same number as torque. (NACA TN 626 halves the
// divisor, so its coefficients are twice these.)
type Coefficients struct {
	Thrust  float64
	Torque  float64 // and power: Induced + Profile
	Induced float64 // what goes into the air's momentum, climb included
	Profile float64 // what goes into the drag of the sections
	// Feathering is the aerodynamic moment on one blade about its feathering axis
	// over density × (tip speed)² × radius³. Positive raises the leading edge.
	Feathering float64
	// Stalled is the share of the blades' length at the stall limit.
	Stalled units.Ratio
}

// FigureOfMerit returns the power that an ideal rotor would need in hover, as a share of
// this rotor's power. It is 0 without thrust.
func (c Coefficients) FigureOfMerit() float64 { return figureOfMerit(c.Thrust, c.Torque) }

// Coefficients returns the loads at a pitch, measured at 0.75 of the radius, from
// -30° to 30°, and a climb in tip speeds, from -0.2 to 0.2. The error is an
// [*units.FieldError] or a [*WakeError].
func (r *Rotor) Coefficients(pitch units.Angle, climb units.Ratio) (Coefficients, error) {
	return r.checked(pitch, climb, 0)
}

// checked is Coefficients, and names the climb in the error.
func (r *Rotor) checked(pitch units.Angle, climb units.Ratio, named units.Velocity) (Coefficients, error) {
	if err := firstOf(
		within("pitch", "pitch (rad)", pitch, -maxPitch, maxPitch),
		within("climb", "climb (tip speeds)", climb, -maxClimbRatio, maxClimbRatio),
	); err != nil {
		return Coefficients{}, err
	}
	c, unsteady := r.coefficients(float64(pitch), float64(climb))
	if unsteady > maxUnsteady {
		return Coefficients{}, &WakeError{Climb: named, Beyond: units.Ratio(unsteady)}
	}
	return c, nil
}

// coefficients sums over the annuli, and returns with the sum the share of the load
// without a steady wake.
func (r *Rotor) coefficients(pitch, climb float64) (c Coefficients, unsteady float64) {
	var gross, stalled, span float64
	for i := range r.annuli {
		n := &r.annuli[i]
		e := n.solve(&r.spec.Section, pitch+n.twist, climb)
		pressure := n.x * n.x * n.weight / 2
		thrust := n.solidity * e.lift * pressure
		c.Thrust += thrust
		c.Induced += thrust * e.flow
		c.Profile += n.solidity * r.spec.Section.drag(e.attack) * pressure * n.x
		c.Feathering += n.chord * n.chord * (r.spec.Section.Moment + r.axis*e.lift) * pressure
		gross += math.Abs(thrust)
		if !e.steady {
			unsteady += math.Abs(thrust)
		}
		if math.Abs(e.lift) >= r.spec.Section.StallLift {
			stalled += n.weight
		}
		span += n.weight
	}
	c.Torque = c.Induced + c.Profile
	c.Stalled = units.Ratio(stalled / span)
	if unsteady > 0 {
		unsteady /= gross
	}
	return c, unsteady
}

// Condition is the state in which a rotor turns.
type Condition struct {
	Speed   units.AngularSpeed // of the rotor; above 0
	Density Density
	Climb   units.Velocity // along the mast, positive up; 0 in hover
}

func (c Condition) validate() error {
	return firstOf(
		within("Speed", "rotor speed (rad/s)", c.Speed, 1*units.RevolutionPerMinute, maxSpeed),
		within("Density", "density (kg/m³)", c.Density, minDensity, maxDensity),
		within("Climb", "climb (m/s)", c.Climb, -maxVelocity, maxVelocity),
	)
}

// Loads are the thrust that a rotor gives, and what it takes to turn it.
type Loads struct {
	Thrust  units.Force  `json:"thrust"`       // along the mast, positive up
	Torque  units.Torque `json:"rotor_torque"` // to turn the rotor; below 0 if the air drives it
	Power   units.Power  `json:"rotor_power"`
	Induced units.Power  `json:"induced_power"` // the part of Power that goes into the air's momentum, climb included
	Profile units.Power  `json:"profile_power"` // the part of Power that goes into the drag of the sections
	// Feathering is the aerodynamic moment on one blade about its feathering axis.
	// Positive raises the leading edge.
	Feathering   units.Torque `json:"feathering"`
	Coefficients Coefficients `json:"-"`
}

// Loads returns the loads at a pitch, measured at 0.75 of the radius, from -30° to
// 30°. The error is a [*units.FieldError], or a [*WakeError] if momentum theory has no
// answer.
func (r *Rotor) Loads(pitch units.Angle, at Condition) (Loads, error) {
	ratio, err := r.climbRatio(at)
	if err != nil {
		return Loads{}, err
	}
	return r.loads(pitch, ratio, at)
}

// loads is Loads with the climb ratio of the condition known.
func (r *Rotor) loads(pitch units.Angle, ratio units.Ratio, at Condition) (Loads, error) {
	c, err := r.checked(pitch, ratio, at.Climb)
	if err != nil {
		return Loads{}, err
	}
	return r.scale(c, at), nil
}

func (r *Rotor) climbRatio(at Condition) (units.Ratio, error) {
	if err := units.In("at", "", at.validate()); err != nil {
		return 0, err
	}
	ratio := units.Ratio(float64(at.Climb) / r.tipSpeed(at))
	return ratio, within("at.Climb", "climb (tip speeds)", ratio, -maxClimbRatio, maxClimbRatio)
}

func (r *Rotor) tipSpeed(at Condition) float64 { return float64(at.Speed) * float64(r.spec.Radius) }

func (r *Rotor) scale(c Coefficients, at Condition) Loads {
	tip, radius := r.tipSpeed(at), float64(r.spec.Radius)
	force := float64(at.Density) * math.Pi * radius * radius * tip * tip
	return Loads{
		Thrust:       units.Force(c.Thrust * force),
		Torque:       units.Torque(c.Torque * force * radius),
		Power:        units.Power(c.Torque * force * tip),
		Induced:      units.Power(c.Induced * force * tip),
		Profile:      units.Power(c.Profile * force * tip),
		Feathering:   units.Torque(c.Feathering * force / math.Pi * radius),
		Coefficients: c,
	}
}

// pitchTolerance is the pitch, in radians, to which PitchFor solves: 6e-11 degree.
const pitchTolerance = 1e-12

// PitchFor returns the pitch that gives a thrust, with the loads there. It is the pitch below
// stall: past stall the thrust grows no more. The error is a [*units.FieldError], a
// [*ThrustError] if no pitch gives the thrust, or a [*WakeError].
func (r *Rotor) PitchFor(thrust units.Force, at Condition) (units.Angle, Loads, error) {
	ratio, err := r.climbRatio(at)
	if err != nil {
		return 0, Loads{}, err
	}
	if err := within("thrust", "thrust (N)", thrust, -maxThrust, maxThrust); err != nil {
		return 0, Loads{}, err
	}
	unit := float64(r.scale(Coefficients{Thrust: 1}, at).Thrust)
	excess := func(pitch float64) float64 {
		c, _ := r.coefficients(pitch, float64(ratio))
		return c.Thrust*unit - float64(thrust)
	}
	lo, hi := float64(-maxPitch), float64(maxPitch)
	below, above := excess(lo), excess(hi)
	if below > 0 {
		return 0, Loads{}, &ThrustError{thrust, thrust + units.Force(below), -maxPitch}
	}
	if above < 0 {
		return 0, Loads{}, &ThrustError{thrust, thrust + units.Force(above), maxPitch}
	}
	pitch := units.Angle(root(excess, lo, hi, below, above, pitchTolerance))
	loads, err := r.Loads(pitch, at)
	return pitch, loads, err
}

// HoverPitch returns the pitch that carries a mass, with the loads there. If Climb is not 0,
// it is the pitch of that steady climb. The errors are those of PitchFor.
func (r *Rotor) HoverPitch(mass units.Mass, at Condition) (units.Angle, Loads, error) {
	if err := within("mass", "mass (kg)", mass, 0, units.Mass(maxThrust/standardGravity)); err != nil {
		return 0, Loads{}, err
	}
	return r.PitchFor(units.Force(mass*standardGravity), at)
}

// TipSpeed returns the speed of the blades' tips around the mast.
func (r *Rotor) TipSpeed(at Condition) units.Velocity { return units.Velocity(r.tipSpeed(at)) }
