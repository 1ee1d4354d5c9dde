package rotor

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/units"
)

// TestRefused puts NaN, infinities and a number out of range in the place of each
// input.
func TestRefused(t *testing.T) {
	r, at, blade := testRotor(t), seaLevel(1800), testBlade()
	spec := func(set func(s *Spec, v float64)) func(float64) error {
		return func(v float64) error {
			s := r.Spec()
			set(&s, v)
			_, err := New(s)
			return err
		}
	}
	condition := func(set func(c *Condition, v float64)) func(float64) error {
		return func(v float64) error {
			c := at
			set(&c, v)
			_, err := r.Loads(0.1, c)
			_, _, thrust := r.PitchFor(30, c)
			_, feathering := r.Feathering(blade, Pitch{}, c)
			if thrust == nil || feathering == nil {
				return nil
			}
			return err
		}
	}
	feather := func(set func(b *Blade, p *Pitch, v float64)) func(float64) error {
		return func(v float64) error {
			b, p := blade, Pitch{}
			set(&b, &p, v)
			_, err := r.Feathering(b, p, at)
			return err
		}
	}
	electric := func(set func(e *Electric, v float64)) func(float64) error {
		return func(v float64) error {
			e := testElectric(t)
			set(&e, v)
			_, err := e.Hold(at.Speed, 1)
			return err
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
	engine := func(set func(p []EnginePoint, g *Gear, v float64)) func(float64) error {
		return func(v float64) error {
			p, g := []EnginePoint{{100, 1}, {1000, 2}}, Gear{8, 1}
			set(p, &g, v)
			_, err := NewEngine(p, g)
			return err
		}
	}
	for name, try := range map[string]func(float64) error{
		"height":              func(v float64) error { _, err := StandardAir(units.Length(v)); return err },
		"geopotential height": func(v float64) error { _, err := StandardAirGeopotential(units.Length(v)); return err },
		"pressure":            func(v float64) error { _, err := DryAir(Pressure(v), 288); return err },
		"temperature":         func(v float64) error { _, err := DryAir(101325, Temperature(v)); return err },

		"radius":     spec(func(s *Spec, v float64) { s.Radius = units.Length(v) }),
		"cutout":     spec(func(s *Spec, v float64) { s.Cutout = units.Length(v) }),
		"chord":      spec(func(s *Spec, v float64) { s.Chord = units.Length(v) }),
		"taper":      spec(func(s *Spec, v float64) { s.Taper = units.Ratio(v) }),
		"twist":      spec(func(s *Spec, v float64) { s.Twist = units.Angle(v) }),
		"axis":       spec(func(s *Spec, v float64) { s.Axis = units.Ratio(v) }),
		"lift slope": spec(func(s *Spec, v float64) { s.Section.LiftSlope = v }),
		"zero lift":  spec(func(s *Spec, v float64) { s.Section.ZeroLift = units.Angle(v) }),
		"stall lift": spec(func(s *Spec, v float64) { s.Section.StallLift = v }),
		"drag":       spec(func(s *Spec, v float64) { s.Section.Drag = v }),
		"drag rise":  spec(func(s *Spec, v float64) { s.Section.DragRise = v }),
		"moment":     spec(func(s *Spec, v float64) { s.Section.Moment = v }),
		"tip loss":   spec(func(s *Spec, v float64) { s.TipLoss = -1 }),
		"blades":     spec(func(s *Spec, v float64) { s.Blades = 0 }),

		"rotor speed": condition(func(c *Condition, v float64) { c.Speed = units.AngularSpeed(v) }),
		"density":     condition(func(c *Condition, v float64) { c.Density = Density(v) }),
		"climb":       condition(func(c *Condition, v float64) { c.Climb = units.Velocity(v) }),
		"pitch":       func(v float64) error { _, err := r.Loads(units.Angle(v), at); return err },
		"climb ratio": func(v float64) error { _, err := r.Coefficients(0, units.Ratio(v)); return err },
		"thrust":      func(v float64) error { _, _, err := r.PitchFor(units.Force(v), at); return err },
		"mass":        func(v float64) error { _, _, err := r.HoverPitch(units.Mass(v), at); return err },

		"ideal thrust":  func(v float64) error { _, err := IdealPower(units.Force(v), 1, 1.2, 0); return err },
		"ideal radius":  func(v float64) error { _, err := IdealPower(1, units.Length(v), 1.2, 0); return err },
		"ideal density": func(v float64) error { _, err := IdealPower(1, 1, Density(v), 0); return err },
		"ideal climb":   func(v float64) error { _, err := IdealPower(1, 1, 1.2, units.Velocity(v)); return err },

		"chordwise":  feather(func(b *Blade, p *Pitch, v float64) { b.Chordwise = units.Inertia(v) }),
		"thickness":  feather(func(b *Blade, p *Pitch, v float64) { b.Thickness = units.Inertia(v) }),
		"product":    feather(func(b *Blade, p *Pitch, v float64) { b.Product = units.Inertia(v) }),
		"spring":     feather(func(b *Blade, p *Pitch, v float64) { b.Spring = units.Torque(v) }),
		"rest":       feather(func(b *Blade, p *Pitch, v float64) { b.Rest = units.Angle(v) }),
		"collective": feather(func(b *Blade, p *Pitch, v float64) { p.Collective = units.Angle(v) }),
		"cosine":     feather(func(b *Blade, p *Pitch, v float64) { p.Cosine = units.Angle(v) }),
		"sine":       feather(func(b *Blade, p *Pitch, v float64) { p.Sine = units.Angle(v) }),
		"sum of the pitches": feather(func(b *Blade, p *Pitch, v float64) {
			*p = Pitch{20 * units.Degree, 8 * units.Degree, 8 * units.Degree}
		}),
		"blade mass":      func(v float64) error { _, err := SymmetricBlade(units.Mass(v), 0.06, 0.12, 0.25); return err },
		"blade chord":     func(v float64) error { _, err := SymmetricBlade(0.1, units.Length(v), 0.12, 0.25); return err },
		"blade thickness": func(v float64) error { _, err := SymmetricBlade(0.1, 0.06, units.Ratio(v), 0.25); return err },
		"blade axis":      func(v float64) error { _, err := SymmetricBlade(0.1, 0.06, 0.12, units.Ratio(v)); return err },

		"moment on a blade": func(v float64) error {
			_, err := r.MeanPlateLoad(Moment{Collective: units.Torque(v)}, headSlopes(1, 1, 0))
			return err
		},
		"bearing": func(v float64) error {
			_, err := r.PlateLoad(Moment{}, units.Angle(v), headSlopes(1, 1, 0))
			return err
		},
		"slope": func(v float64) error { _, err := r.PlateLoad(Moment{}, 0, headSlopes(v, 1, 0)); return err },

		"source voltage":    electric(func(e *Electric, v float64) { e.Source.Voltage = units.Voltage(v) }),
		"source resistance": electric(func(e *Electric, v float64) { e.Source.Resistance = units.Resistance(v) }),
		"speed constant":    electric(func(e *Electric, v float64) { e.Motor.SpeedConstant = units.AngularSpeed(v) }),
		"motor resistance":  electric(func(e *Electric, v float64) { e.Motor.Resistance = units.Resistance(v) }),
		"no-load current":   electric(func(e *Electric, v float64) { e.Motor.NoLoad = units.Current(v) }),
		"gear ratio":        electric(func(e *Electric, v float64) { e.Gear.Ratio = units.Ratio(v) }),
		"gear efficiency":   electric(func(e *Electric, v float64) { e.Gear.Efficiency = units.Ratio(v) }),
		"speed held": func(v float64) error {
			_, err := testElectric(t).Hold(units.AngularSpeed(v), 1)
			return err
		},
		"torque held": func(v float64) error { _, err := testEngine(t).Hold(at.Speed, units.Torque(v)); return err },

		"charge of a point":  battery(func(b *Battery, v float64) { b.Cell[2].Charge = units.Ratio(v) }),
		"voltage of a point": battery(func(b *Battery, v float64) { b.Cell[2].Voltage = units.Voltage(v) }),
		"battery resistance": battery(func(b *Battery, v float64) { b.Resistance = units.Resistance(v) }),
		"cells":              battery(func(b *Battery, v float64) { b.Cells = 0 }),
		"no points":          battery(func(b *Battery, v float64) { b.Cell = nil }),

		"engine speed":    engine(func(p []EnginePoint, g *Gear, v float64) { p[1].Speed = units.AngularSpeed(v) }),
		"engine power":    engine(func(p []EnginePoint, g *Gear, v float64) { p[1].Power = units.Power(v) }),
		"engine order":    engine(func(p []EnginePoint, g *Gear, v float64) { p[1].Speed = p[0].Speed }),
		"engine gear":     engine(func(p []EnginePoint, g *Gear, v float64) { g.Ratio = units.Ratio(v) }),
		"engine by point": func(float64) error { _, err := NewEngine([]EnginePoint{{1, 1}}, Gear{1, 1}); return err },
	} {
		for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e20, -1e20} {
			var input *RangeError
			if err := try(v); !errors.As(err, &input) {
				t.Errorf("%s = %v: error %v", name, v, err)
			} else if !(input.Lo <= input.Hi) || (input.Value >= input.Lo && input.Value <= input.Hi) {
				t.Errorf("%s = %v: %+v", name, v, input)
			}
		}
	}
}

// TestErrorTexts: an error says what, where and by how much.
func TestErrorTexts(t *testing.T) {
	for want, err := range map[string]error{
		"radius must be from 0.01 m to 100 m, not -1 m":                              within("Radius", "radius (m)", -1, 0.01, 100),
		"blades must be from 1 to 12, not 0":                                         within("x", "blades", 0., 1, 12),
		"pitch must be from -30° to 30°, not 45°":                                    within("x", "pitch (rad)", math.Pi/4, -math.Pi/6, math.Pi/6),
		"rotor speed must be from 1 rpm to 1e+06 rpm, not 0 rpm":                     within("x", "rotor speed (rad/s)", 0, math.Pi/30, 1e6*math.Pi/30),
		"momentum theory has no answer at an axial speed of -2 m/s: 40 %":            &WakeError{-2, 0.4},
		"momentum theory has no answer: 40 %":                                        &WakeError{0, 0.4},
		"a thrust of 50 N is out of reach: the nearest is 41.5 N, at a pitch of 30°": &ThrustError{50, 41.5, 30 * units.Degree},
		"cannot hold 2000 rpm against a torque of 3 N·m: flat; no speed can be held": &HoldError{
			2000 * units.RevolutionPerMinute, 3, 0, "flat"},
		"cannot hold 2000 rpm against a torque of 3 N·m: flat; the best speed is 1800 rpm": &HoldError{
			2000 * units.RevolutionPerMinute, 3, 1800 * units.RevolutionPerMinute, "flat"},
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q lacks %q", err, want)
		}
	}
}

// TestRoot: the worst of functions take one step more than bisection, and one for
// rounding.
func TestRoot(t *testing.T) {
	const lo, hi, tolerance = -1.0, 3.0, 1e-9
	limit := int(math.Ceil(math.Log2((hi-lo)/tolerance))) + 2
	for _, zero := range []float64{-1 + 1e-6, -0.3, 0, 1, 2.9} {
		for name, f := range map[string]func(float64) float64{
			"line":  func(x float64) float64 { return x - zero },
			"cubic": func(x float64) float64 { return math.Pow(x-zero, 3) },
			"step":  func(x float64) float64 { return math.Copysign(1, x-zero) },
			"steep": func(x float64) float64 { return math.Expm1(50 * (x - zero)) },
			"flat":  func(x float64) float64 { return -math.Expm1(-50 * (x - zero)) },
		} {
			calls := 0
			got := root(func(x float64) float64 { calls++; return f(x) }, lo, hi, f(lo), f(hi), tolerance)
			withinOf(t, name, got, zero, tolerance)
			if calls > limit {
				t.Errorf("%s through %v: %d steps, more than %d", name, zero, calls, limit)
			}
		}
	}
}
