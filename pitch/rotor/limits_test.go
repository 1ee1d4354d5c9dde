package rotor

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/units"
)

// limit is a number of the input with its closed range, as the package's limits are
// written down here a second time.
type limit struct {
	name   string
	lo, hi float64
	try    func(v float64) error
}

// check wants the ends of the range allowed, and the next numbers outside refused by
// name with that range.
func (l limit) check(t *testing.T) {
	t.Helper()
	for _, v := range []float64{l.lo, l.hi} {
		var input *units.FieldError
		if err := l.try(v); errors.As(err, &input) {
			t.Errorf("%s of %v: %v", l.name, v, err)
		}
	}
	for _, v := range []float64{math.Nextafter(l.lo, math.Inf(-1)), math.Nextafter(l.hi, math.Inf(1))} {
		var field *units.FieldError
		var input *RangeError
		if err := l.try(v); !errors.As(err, &field) || !errors.As(err, &input) || called(field, input) != l.name || input.Value != v || input.Lo != l.lo || input.Hi != l.hi {
			t.Errorf("%s of %v, outside %v to %v: %v", l.name, v, l.lo, l.hi, err)
		}
	}
}

// called returns the words of a field and, in brackets, the SI unit of its range.
func called(field *units.FieldError, of *RangeError) string {
	words := strings.TrimPrefix(field.Words, "rotor: ")
	if of.Unit != "" {
		words += " (" + of.Unit + ")"
	}
	return words
}

func TestLimits(t *testing.T) {
	const degree = float64(units.Degree)
	const rpm = float64(units.RevolutionPerMinute)
	r := testRotor(t)
	spec := func(set func(s *Spec, v float64)) func(float64) error {
		return func(v float64) error {
			s := r.Spec()
			set(&s, v)
			return s.validate()
		}
	}
	at := func(set func(c *Condition, v float64)) func(float64) error {
		return func(v float64) error {
			c := seaLevel(1800)
			set(&c, v)
			return c.validate()
		}
	}
	electric := func(set func(e *Electric, v float64)) func(float64) error {
		return func(v float64) error {
			e := testElectric(t)
			set(&e, v)
			return e.validate()
		}
	}
	blade := func(set func(b *Blade, v float64)) func(float64) error {
		return func(v float64) error {
			b := testBlade()
			set(&b, v)
			return b.validate()
		}
	}
	pitch := func(set func(p *Pitch, v float64)) func(float64) error {
		return func(v float64) error {
			var p Pitch
			set(&p, v)
			return p.validate()
		}
	}
	battery := func(set func(b *Battery, v float64)) func(float64) error {
		return func(v float64) error {
			b := Battery{Cells: 6, Cell: LithiumPolymer()}
			set(&b, v)
			_, err := b.At(0.5)
			return err
		}
	}
	engine := func(set func(p []EnginePoint, v float64)) func(float64) error {
		return func(v float64) error {
			p := []EnginePoint{{100, 1}, {1000, 2}}
			set(p, v)
			_, err := NewEngine(p, Gear{8, 1})
			return err
		}
	}
	ideal := func(set func(thrust *units.Force, radius *units.Length, density *Density, v float64)) func(float64) error {
		return func(v float64) error {
			thrust, radius, density := units.Force(0), units.Length(1), Density(1.2)
			set(&thrust, &radius, &density, v)
			_, err := InducedVelocity(thrust, radius, density, 0)
			return err
		}
	}
	solid := func(which int) func(float64) error {
		return func(v float64) error {
			of := [...]float64{0.1, 0.06, 0.12, 0.25}
			of[which] = v
			_, err := SymmetricBlade(units.Mass(of[0]), units.Length(of[1]), units.Ratio(of[2]), units.Ratio(of[3]))
			return err
		}
	}
	for _, l := range []limit{
		{"section: lift slope (1/rad)", 0.1, 20, spec(func(s *Spec, v float64) { s.Section.LiftSlope = v })},
		{"section: zero lift (rad)", -20 * degree, 20 * degree, spec(func(s *Spec, v float64) { s.Section.ZeroLift = units.Angle(v) })},
		{"section: stall lift", 0.01, 10, spec(func(s *Spec, v float64) { s.Section.StallLift = v })},
		{"section: drag", 0, 1, spec(func(s *Spec, v float64) { s.Section.Drag = v })},
		{"section: drag rise (1/rad²)", 0, 100, spec(func(s *Spec, v float64) { s.Section.DragRise = v })},
		{"section: moment", -1, 1, spec(func(s *Spec, v float64) { s.Section.Moment = v })},

		{"radius (m)", 0.01, 100, spec(func(s *Spec, v float64) { s.Radius, s.Chord, s.Cutout = units.Length(v), units.Length(v/10), 0 })},
		{"chord (m)", 0.7 / 1000, 0.7 / 2, spec(func(s *Spec, v float64) { s.Radius, s.Chord = 0.7, units.Length(v) })},
		{"taper", 0, 20, spec(func(s *Spec, v float64) { s.Taper = units.Ratio(v) })},
		{"twist (rad)", -30 * degree, 30 * degree, spec(func(s *Spec, v float64) { s.Twist = units.Angle(v) })},
		{"axis (chords)", 0, 1, spec(func(s *Spec, v float64) { s.Axis = units.Ratio(v) })},
		{"cutout (m)", 0, 0.7, spec(func(s *Spec, v float64) { s.Radius, s.Cutout = 1, units.Length(v) })},

		{"rotor speed (rad/s)", rpm, 1e6 * rpm, at(func(c *Condition, v float64) { c.Speed = units.AngularSpeed(v) })},
		{"density (kg/m³)", 0.01, 100, at(func(c *Condition, v float64) { c.Density = Density(v) })},
		{"climb (m/s)", -1000, 1000, at(func(c *Condition, v float64) { c.Climb = units.Velocity(v) })},
		{"pitch (rad)", -30 * degree, 30 * degree, func(v float64) error { _, err := r.Coefficients(units.Angle(v), 0); return err }},
		{"climb (tip speeds)", -0.2, 0.2, func(v float64) error { _, err := r.Coefficients(0, units.Ratio(v)); return err }},

		{"thrust (N)", -1e9, 1e9, ideal(func(f *units.Force, _ *units.Length, _ *Density, v float64) { *f = units.Force(v) })},
		{"radius (m)", 0.01, 100, ideal(func(_ *units.Force, r *units.Length, _ *Density, v float64) { *r = units.Length(v) })},
		{"density (kg/m³)", 0.01, 100, ideal(func(_ *units.Force, _ *units.Length, d *Density, v float64) { *d = Density(v) })},

		{"blade: chordwise inertia (kg·m²)", 0, 100, blade(func(b *Blade, v float64) { b.Chordwise = units.Inertia(v) })},
		{"blade: thickness inertia (kg·m²)", 0, 100, blade(func(b *Blade, v float64) { b.Thickness = units.Inertia(v) })},
		{"blade: product of inertia (kg·m²)", -100, 100, blade(func(b *Blade, v float64) { b.Product = units.Inertia(v) })},
		{"blade: spring (N·m/rad)", 0, 1e4, blade(func(b *Blade, v float64) { b.Spring = units.Torque(v) })},
		{"blade: rest (rad)", -30 * degree, 30 * degree, blade(func(b *Blade, v float64) { b.Rest = units.Angle(v) })},
		{"blade mass (kg)", 0, 100, solid(0)},
		{"chord (m)", 0, 100, solid(1)},
		{"thickness (chords)", 0, 1, solid(2)},
		{"axis (chords)", 0, 1, solid(3)},
		{"collective (rad)", -30 * degree, 30 * degree, pitch(func(p *Pitch, v float64) { p.Collective = units.Angle(v) })},
		{"cosine pitch (rad)", -30 * degree, 30 * degree, pitch(func(p *Pitch, v float64) { p.Cosine = units.Angle(v) })},
		{"sine pitch (rad)", -30 * degree, 30 * degree, pitch(func(p *Pitch, v float64) { p.Sine = units.Angle(v) })},

		{"gear: ratio", 0.01, 1000, electric(func(e *Electric, v float64) { e.Gear.Ratio = units.Ratio(v) })},
		{"gear: efficiency", 0.01, 1, electric(func(e *Electric, v float64) { e.Gear.Efficiency = units.Ratio(v) })},
		{"source: voltage (V)", 0, 1e4, electric(func(e *Electric, v float64) { e.Source.Voltage = units.Voltage(v) })},
		{"source: resistance (ohm)", 0, 100, electric(func(e *Electric, v float64) { e.Source.Resistance = units.Resistance(v) })},
		{"motor: speed constant (rad/s/V)", 0.01, 1e6 * rpm, electric(func(e *Electric, v float64) { e.Motor.SpeedConstant = units.AngularSpeed(v) })},
		{"motor: resistance (ohm)", 0, 100, electric(func(e *Electric, v float64) { e.Motor.Resistance = units.Resistance(v) })},
		{"motor: no-load current (A)", 0, 1000, electric(func(e *Electric, v float64) { e.Motor.NoLoad = units.Current(v) })},
		{"rotor speed (rad/s)", rpm, 1e6 * rpm, func(v float64) error { return validateDemand(units.AngularSpeed(v), 0) }},
		{"rotor torque (N·m)", 0, 1e6, func(v float64) error { return validateDemand(1, units.Torque(v)) }},

		{"battery: resistance (ohm)", 0, 100, battery(func(b *Battery, v float64) { b.Resistance = units.Resistance(v) })},
		{"battery: cell point 1: charge", 0, 1, func(v float64) error {
			_, err := Battery{Cells: 1, Cell: []CellPoint{{units.Ratio(v), 1}}}.At(units.Ratio(v))
			return err
		}},
		{"battery: cell point 3: charge", 0.1, 1, func(v float64) error {
			cell := LithiumPolymer()[:3]
			cell[2].Charge = units.Ratio(v)
			_, err := Battery{Cells: 1, Cell: cell}.At(0)
			return err
		}},
		{"battery: cell point 1: voltage (V)", 0, 100, func(v float64) error {
			_, err := Battery{Cells: 1, Cell: []CellPoint{{0.5, units.Voltage(v)}}}.At(0.5)
			return err
		}},
		{"battery: cell point 7: voltage (V)", 4.02, 100, battery(func(b *Battery, v float64) { b.Cell[6].Voltage = units.Voltage(v) })},
		{"charge", 0.1, 0.8, func(v float64) error {
			_, err := Battery{Cells: 6, Cell: LithiumPolymer()[1:6]}.At(units.Ratio(v))
			return err
		}},

		{"engine: point 2: speed (rad/s)", 100 + rpm, 1e6 * rpm, engine(func(p []EnginePoint, v float64) { p[1].Speed = units.AngularSpeed(v) })},
		{"engine: point 2: power (W)", 0, 1e6, engine(func(p []EnginePoint, v float64) { p[1].Power = units.Power(v) })},

		{"pressure (Pa)", 1e4, 2e5, func(v float64) error { _, err := DryAir(Pressure(v), 288); return err }},
		{"temperature (K)", float64(Celsius(-100)), float64(Celsius(100)), func(v float64) error { _, err := DryAir(101325, Temperature(v)); return err }},
	} {
		l.check(t)
	}
}

// Whole numbers: the ends are allowed, one less and one more are not.
func TestLimitsOfCounts(t *testing.T) {
	points := func(n int) []EnginePoint {
		p := make([]EnginePoint, n)
		for i := range p {
			p[i] = EnginePoint{units.AngularSpeed(i + 1), 1}
		}
		return p
	}
	for _, c := range []struct {
		name   string
		lo, hi int
		try    func(n int) error
	}{
		{"blades", 1, 12, func(n int) error { s := testRotor(t).Spec(); s.Blades = n; return s.validate() }},
		{"tip loss", int(Prandtl), int(NoTipLoss), func(n int) error { s := testRotor(t).Spec(); s.TipLoss = TipLoss(n); return s.validate() }},
		{"battery: cells", 1, 100, func(n int) error { _, err := Battery{Cells: n, Cell: LithiumPolymer()}.At(0.5); return err }},
		{"battery: points of the cell", 1, 1000, func(n int) error {
			_, err := Battery{Cells: 1, Cell: make([]CellPoint, n)}.At(0)
			return err
		}},
		{"engine: points of the power curve", 2, 1000, func(n int) error { _, err := NewEngine(points(n), Gear{8, 1}); return err }},
	} {
		for n, ok := range map[int]bool{c.lo - 1: false, c.lo: true, c.hi: true, c.hi + 1: false} {
			err := c.try(n)
			var field *units.FieldError
			var input *RangeError
			if ok != (err == nil) || !ok && (!errors.As(err, &field) || !errors.As(err, &input) || called(field, input) != c.name) {
				t.Errorf("%d for %s, of %d to %d: %v", n, c.name, c.lo, c.hi, err)
			}
		}
	}
}
