package units_test

import (
	"encoding/csv"
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/unit/constant"
	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

// A factor is a row of testdata/sp811.csv.
type factor struct {
	unit    string
	printed string // seven digits, empty where the table has none
	exact   string // up to twenty digits
}

func readFactors(t *testing.T) []factor {
	t.Helper()
	file, err := os.Open("testdata/sp811.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var factors []factor
	for _, row := range rows[1:] {
		printed := strings.ReplaceAll(row[2], " ", "")
		if strings.HasPrefix(printed, "(") {
			printed = ""
		}
		factors = append(factors, factor{unit: row[0], printed: printed, exact: row[3]})
	}
	return factors
}

// held is a unit of testdata/sp811.csv as this package has it: the constant, and
// the spelling that its quantity reads.
type held struct {
	constant float64
	parse    func(string) (float64, error)
	spelling string
}

func hold[Q units.Quantity](constant Q, spelling string) held {
	return held{float64(constant), func(text string) (float64, error) {
		q, err := units.Parse[Q](text)
		return float64(q), err
	}, spelling}
}

var heldUnits = map[string]held{
	"inch":                               hold(units.Inch, "in"),
	"foot":                               hold(units.Foot, "ft"),
	"degree":                             hold(units.Degree, "°"),
	"revolution per minute (rpm)":        hold(units.RevolutionPerMinute, "rpm"),
	"kilogram-force (kgf)":               hold(units.KilogramForce, "kgf"),
	"kilogram-force meter (kgf*m)":       hold(units.KilogramForceMetre, "kgf·m"),
	"kilogram-force centimeter (kgf*cm)": hold(units.KilogramForceCentimetre, "kgf·cm"),
	"ounce (avoirdupois)-force (ozf)":    hold(units.OunceForce, "ozf"),
	"ounce-force inch (ozf*in)":          hold(units.OunceForceInch, "ozf·in"),
	"pound-force (lbf)":                  hold(units.PoundForce, "lbf"),
	"pound-force inch (lbf*in)":          hold(units.PoundForceInch, "lbf·in"),
	"pound-force foot (lbf*ft)":          hold(units.PoundForceFoot, "lbf·ft"),
	"pound (avoirdupois) (lb)":           hold(units.Pound, "lb"),
	"ounce (avoirdupois) (oz)":           hold(units.Ounce, "oz"),
	"horsepower (550 ft*lbf/s)":          hold(units.Horsepower, "hp"),
}

// TestFactors compares each constant with the definition and with the printed
// factor of NIST SP 811 (2008), Appendix B.8.
func TestFactors(t *testing.T) {
	const (
		// The constant and the table's value are each rounded from the exact
		// factor, or from 20 digits of it.
		exactULPs = 1
		// Half a unit in the seventh digit, relative to a factor that begins 1.
		printedRelative = 5e-7
	)
	factors := readFactors(t)
	if len(factors) != len(heldUnits) {
		t.Errorf("the table has %d factors, the test knows %d", len(factors), len(heldUnits))
	}
	for _, f := range factors {
		h, ok := heldUnits[f.unit]
		if !ok {
			t.Errorf("%s: no such unit in the test", f.unit)
			continue
		}
		exact, err := strconv.ParseFloat(f.exact, 64)
		if err != nil {
			t.Fatal(err)
		}
		if off := ulps(h.constant, exact); !(off <= exactULPs) {
			t.Errorf("%s = %.17g, defined as %s: off by %g ulp", f.unit, h.constant, f.exact, off)
		}
		if f.printed == "" {
			continue
		}
		printed, err := strconv.ParseFloat(f.printed, 64)
		if err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(h.constant-printed) / printed; !(off <= printedRelative) {
			t.Errorf("%s = %.17g, SP 811 prints %s: off by %g, relative", f.unit, h.constant, f.printed, off)
		}
	}
}

// TestStandardGravity has gonum's constant for a second opinion.
func TestStandardGravity(t *testing.T) {
	if got, want := float64(units.KilogramForce), float64(constant.StandardGravity); got != want {
		t.Errorf("a kilogram-force is %g N, standard gravity %g m/s²", got, want)
	}
}

// TestParseAccuracy compares Parse with the product in rational arithmetic of
// the decimal read and the exact factor of testdata/sp811.csv.
func TestParseAccuracy(t *testing.T) {
	// As promised in the package text: three roundings of 2⁻⁵³ each make 3.4e-16.
	const relative = 5e-16
	factors := readFactors(t)
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(factors).Draw(t, "factor")
		number := rapid.StringMatching(`[1-9][0-9]{0,20}(\.[0-9]{1,9})?(e-?[0-9]{1,2})?`).Draw(t, "number")
		h := heldUnits[f.unit]
		si, err := h.parse(number + " " + h.spelling)
		if err != nil {
			t.Fatal(err)
		}
		decimal, _ := new(big.Rat).SetString(number)
		size, _ := new(big.Rat).SetString(f.exact)
		want := new(big.Rat).Mul(decimal, size)
		off := new(big.Rat).Sub(new(big.Rat).SetFloat64(si), want)
		if r, _ := off.Quo(off, want).Float64(); !(math.Abs(r) <= relative) {
			t.Errorf("%s %s = %.17g, off by %g, relative", number, h.spelling, si, r)
		}
	})
}

// An accessor is a method that gives a number of one unit, beside that unit.
type accessor struct {
	name string
	unit float64
	in   func(si float64) float64
}

func access[Q units.Quantity](name string, unit Q, method func(Q) float64) accessor {
	return accessor{name, float64(unit), func(si float64) float64 { return method(Q(si)) }}
}

var accessors = []accessor{
	access("Angle.Radians", units.Radian, units.Angle.Radians),
	access("Angle.Degrees", units.Degree, units.Angle.Degrees),
	access("AngularSpeed.RadiansPerSecond", units.RadianPerSecond, units.AngularSpeed.RadiansPerSecond),
	access("AngularSpeed.DegreesPerSecond", units.DegreePerSecond, units.AngularSpeed.DegreesPerSecond),
	access("AngularSpeed.RPM", units.RevolutionPerMinute, units.AngularSpeed.RPM),
	access("Length.Metres", units.Metre, units.Length.Metres),
	access("Length.Centimetres", units.Centimetre, units.Length.Centimetres),
	access("Length.Millimetres", units.Millimetre, units.Length.Millimetres),
	access("Length.Inches", units.Inch, units.Length.Inches),
	access("Length.Feet", units.Foot, units.Length.Feet),
	access("Velocity.MetresPerSecond", units.MetrePerSecond, units.Velocity.MetresPerSecond),
	access("Velocity.KilometresPerHour", units.KilometrePerHour, units.Velocity.KilometresPerHour),
	access("Velocity.FeetPerSecond", units.FootPerSecond, units.Velocity.FeetPerSecond),
	access("Inertia.KilogramSquareMetres", units.KilogramSquareMetre, units.Inertia.KilogramSquareMetres),
	access("Inertia.GramSquareCentimetres", units.GramSquareCentimetre, units.Inertia.GramSquareCentimetres),
	access("Mass.Kilograms", units.Kilogram, units.Mass.Kilograms),
	access("Mass.Grams", units.Gram, units.Mass.Grams),
	access("Mass.Pounds", units.Pound, units.Mass.Pounds),
	access("Mass.Ounces", units.Ounce, units.Mass.Ounces),
	access("Time.Seconds", units.Second, units.Time.Seconds),
	access("Time.Milliseconds", units.Millisecond, units.Time.Milliseconds),
	access("Time.Microseconds", units.Microsecond, units.Time.Microseconds),
	access("Time.Minutes", units.Minute, units.Time.Minutes),
	access("PulseWidth.Seconds", units.PulseSecond, units.PulseWidth.Seconds),
	access("PulseWidth.Milliseconds", units.PulseMillisecond, units.PulseWidth.Milliseconds),
	access("PulseWidth.Microseconds", units.PulseMicrosecond, units.PulseWidth.Microseconds),
	access("Force.Newtons", units.Newton, units.Force.Newtons),
	access("Force.KilogramsForce", units.KilogramForce, units.Force.KilogramsForce),
	access("Force.GramsForce", units.GramForce, units.Force.GramsForce),
	access("Force.PoundsForce", units.PoundForce, units.Force.PoundsForce),
	access("Force.OuncesForce", units.OunceForce, units.Force.OuncesForce),
	access("Torque.NewtonMetres", units.NewtonMetre, units.Torque.NewtonMetres),
	access("Torque.KilogramForceCentimetres", units.KilogramForceCentimetre, units.Torque.KilogramForceCentimetres),
	access("Torque.OunceForceInches", units.OunceForceInch, units.Torque.OunceForceInches),
	access("Torque.PoundForceInches", units.PoundForceInch, units.Torque.PoundForceInches),
	access("Torque.PoundForceFeet", units.PoundForceFoot, units.Torque.PoundForceFeet),
	access("Voltage.Volts", units.Volt, units.Voltage.Volts),
	access("Voltage.Millivolts", units.Millivolt, units.Voltage.Millivolts),
	access("Current.Amperes", units.Ampere, units.Current.Amperes),
	access("Current.Milliamperes", units.Milliampere, units.Current.Milliamperes),
	access("Resistance.Ohms", units.Ohm, units.Resistance.Ohms),
	access("Resistance.Milliohms", units.Milliohm, units.Resistance.Milliohms),
	access("Power.Watts", units.Watt, units.Power.Watts),
	access("Power.Kilowatts", units.Kilowatt, units.Power.Kilowatts),
	access("Power.Horsepower", units.Horsepower, units.Power.Horsepower),
	access("Stiffness.NewtonsPerMetre", units.NewtonPerMetre, units.Stiffness.NewtonsPerMetre),
	access("Stiffness.NewtonsPerMillimetre", units.NewtonPerMillimetre, units.Stiffness.NewtonsPerMillimetre),
	access("Ratio.Percent", units.Percent, units.Ratio.Percent),
}

// TestAccessors checks that an accessor undoes the multiplication by its unit.
func TestAccessors(t *testing.T) {
	// The product and the quotient are rounded once each.
	const inverseULPs = 1
	for _, a := range accessors {
		if got := a.in(a.unit); got != 1 {
			t.Errorf("%s of one unit is %.17g", a.name, got)
		}
		rapid.Check(t, func(t *rapid.T) {
			x := rapid.Float64Range(-1e6, 1e6).Filter(func(x float64) bool {
				return x == 0 || math.Abs(x) > 1e-300 // so that no product is subnormal
			}).Draw(t, "x")
			got := a.in(x * a.unit)
			if off := ulps(got, x); !(off <= inverseULPs) || got*x < 0 {
				t.Errorf("%s of %.17g units is %.17g", a.name, x, got)
			}
		})
	}
}

// TestTransit checks the three ways to and from the transit time of a servo.
func TestTransit(t *testing.T) {
	// Two quotients are rounded once each; the error of the first one doubles
	// where it crosses a power of two.
	const inverseULPs = 2
	rapid.Check(t, func(t *rapid.T) {
		seconds := rapid.Float64Range(1e-3, 1e3).Draw(t, "seconds")
		speed := units.TransitSpeed(units.Time(seconds))
		text := strconv.FormatFloat(seconds, 'g', -1, 64) + " s/60°"
		if read, err := units.Parse[units.AngularSpeed](text); err != nil || read != speed {
			t.Errorf("Parse(%q) = %v, %v, but TransitSpeed gives %v", text, read, err, speed)
		}
		if got := speed.SecondsPer60Degrees(); ulps(got, seconds) > inverseULPs {
			t.Errorf("a transit time of %.17g s comes back as %.17g s", seconds, got)
		}
	})
	// 60° in 0.1 s is 600°/s, a sixth of 600 rpm.
	if got := units.TransitSpeed(units.Second / 10).RPM(); ulps(got, 100) > inverseULPs {
		t.Errorf("0.1 s/60° is %.17g rpm, want 100", got)
	}
	if got := units.AngularSpeed(0).SecondsPer60Degrees(); !math.IsInf(got, 1) {
		t.Errorf("the transit time at rest is %v, want +Inf", got)
	}
	if got := units.TransitSpeed(0); units.Finite(got) {
		t.Errorf("the speed for no transit time is %v, want an infinity", got)
	}
}

func TestFinite(t *testing.T) {
	for _, p := range probes {
		for _, x := range notFinite {
			if p.finite(x) {
				t.Errorf("%s: %v is called finite", p.name, x)
			}
		}
		rapid.Check(t, func(t *rapid.T) {
			if x := anyFinite.Draw(t, "x"); !p.finite(x) {
				t.Errorf("%s: %v is called not finite", p.name, x)
			}
		})
	}
}
