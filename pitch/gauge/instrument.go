package gauge

import (
	"math"
	"slices"
	"strings"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Instrument is what angles of a machine are read with: a pitch gauge on a blade, a level on
// the swashplate, or a protractor on a servo's arm. Errors call any of them a gauge.
type Instrument struct {
	Name     string
	Measures []Quantity
	Step     units.Angle // the smallest difference it shows
	Low      units.Angle // the low end of its scale
	High     units.Angle // the high end of its scale
	// Zero is the standard deviation of what it shows at zero, which is the same in all
	// its readings. It is 0 for a gauge that has been set to zero with certainty.
	Zero units.Angle
	// Repeat is the standard deviation of one reading over again, besides the rounding to a
	// step, such as from how the gauge is clamped on and the eye that reads it.
	Repeat units.Angle
}

// PitchGauge returns the pitch gauge of the machine file, with a Zero of 0.3° and a Repeat of
// 0.1° (common practice, no source).
func PitchGauge(rig *setup.Rig) Instrument {
	g := rig.Gauge()
	return Instrument{
		Name: "pitch gauge", Measures: []Quantity{BladePitch},
		Step: g.Step, Low: g.Low, High: g.High,
		Zero: 0.3 * units.Degree, Repeat: 0.1 * units.Degree,
	}
}

// Level returns a level laid on the swashplate, with a scale to 20° either way, set to zero
// on the mast. Its Repeat is 0.1° (common practice, no source).
func Level(step units.Angle) Instrument {
	return Instrument{
		Name: "level", Measures: []Quantity{TiltRight, TiltForward},
		Step: step, Low: -20 * units.Degree, High: 20 * units.Degree,
		Repeat: 0.1 * units.Degree,
	}
}

// Protractor returns a protractor held to a servo's arm, with a scale to 90° either way. Its
// Repeat is 0.5° (common practice, no source).
func Protractor(step units.Angle) Instrument {
	return Instrument{
		Name: "protractor", Measures: []Quantity{ArmAngle},
		Step: step, Low: -90 * units.Degree, High: 90 * units.Degree,
		Repeat: 0.5 * units.Degree,
	}
}

// Sigma returns the standard deviation of one reading, its zero apart: that of
// rounding to a step, which is the step over the root of 12, and Repeat, as the root of the
// sum of their squares.
func (g *Instrument) Sigma() units.Angle {
	return units.Angle(math.Hypot(float64(g.Step)/math.Sqrt(12), float64(g.Repeat)))
}

// Shows reports whether an angle is on the scale, read to half a step.
func (g *Instrument) Shows(a units.Angle) bool {
	return a >= g.Low-g.Step/2 && a <= g.High+g.Step/2
}

func (g *Instrument) measures(q Quantity) bool { return slices.Contains(g.Measures, q) }

// validate reports the first field that cannot be used.
func (g *Instrument) validate() error {
	fail := func(field, format string, args ...any) error {
		err := words.Refuse(field, format, args...)
		err.Words = ": " + err.Words // after the gauge's name
		return err
	}
	if strings.TrimSpace(g.Name) == "" {
		return fail("Name", "is empty; give it one")
	}
	for _, q := range g.Measures {
		if q < BladePitch || q > ArmAngle {
			return fail("Measures", "must hold quantities from %d to %d, not %d", int(BladePitch), int(ArmAngle), int(q))
		}
	}
	for _, f := range []struct {
		name  string
		value units.Angle
	}{{"Step", g.Step}, {"Zero", g.Zero}, {"Repeat", g.Repeat}} {
		if !(f.value >= 0 && f.value <= coarsest) {
			return fail(f.name, "must be from 0° to %v, not %v", coarsest, f.value)
		}
	}
	switch {
	case g.Sigma() < finest:
		return fail("Step", "and repeat together must be %v or more, not %v; no hand tool reads finer", finest, g.Sigma())
	case !units.Finite(g.Low) || !units.Finite(g.High) || !(g.Low < g.High):
		return fail("High", "must be from a lower to a higher angle, not from %v to %v", g.Low, g.High)
	}
	return nil
}

// The finest and coarsest readings taken. What is beyond them is a slip of the pen.
const (
	finest   = 1e-4 * units.Degree
	coarsest = 20 * units.Degree
)
