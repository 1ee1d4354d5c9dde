package units_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

// checkRoundTrip checks that Parse(MarshalText(si)) has the bits of si.
func checkRoundTrip(t interface{ Errorf(string, ...any) }, p probe, si float64) {
	text, err := p.marshal(si)
	if err != nil {
		t.Errorf("%s: MarshalText of %v: %v", p.name, si, err)
		return
	}
	if got, err := p.parse(text); err != nil || math.Float64bits(got) != math.Float64bits(si) {
		t.Errorf("%s: %.17g is written %q, which is read as %.17g, %v", p.name, si, text, got, err)
	}
}

func TestRoundTrip(t *testing.T) {
	for _, p := range probes {
		t.Run(p.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) { checkRoundTrip(t, p, anyFinite.Draw(t, "si")) })
		})
	}
}

// preferred are the units in which quantities are written.
var preferred = map[string]string{
	"angle": "°", "angular speed": " rpm", "length": " mm", "mass": " g", "time": " s", "pulse width": " µs",
	"force": " N", "torque": " N·m", "voltage": " V", "current": " A", "power": " W", "ratio": " %",
	"stiffness": " N/mm", "velocity": " m/s", "inertia": " g·cm²", "resistance": " mΩ",
}

// TestMarshalTextIsShortest checks that a text in the preferred unit is written
// as it was read. Decimals of 15 digits lie more than four float64 values
// apart, so no other one of that length can stand for the same quantity.
func TestMarshalTextIsShortest(t *testing.T) {
	const digits = 15
	for _, p := range probes {
		rapid.Check(t, func(t *rapid.T) {
			x := rapid.OneOf(
				rapid.Float64Range(-1e6, 1e6),
				rapid.Map(rapid.IntRange(-99999, 99999), func(n int) float64 { return float64(n) / 100 }),
			).Filter(func(x float64) bool {
				return x == 0 || math.Abs(x) > 1e-300 // so that no quantity is subnormal
			}).Draw(t, "x")
			rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
			text := strconv.FormatFloat(rounded, 'g', -1, 64) + preferred[p.name]
			si, err := p.parse(text)
			if err != nil {
				t.Fatal(err)
			}
			if got, err := p.marshal(si); err != nil || got != text {
				t.Errorf("%s: %q is written again as %q, %v", p.name, text, got, err)
			}
		})
	}
}

// TestMarshalText has the SI unit for values that no float64 times the preferred
// unit is equal to.
func TestMarshalText(t *testing.T) {
	for _, c := range []struct {
		quantity encoding.TextMarshaler
		want     string
	}{
		{9 * units.Degree, "9°"},
		{0.73 * units.Radian, "0.73 rad"},
		{units.Inch / 2, "12.7 mm"},
		{units.Length(math.Copysign(0, -1)), "-0 mm"},
		{units.Length(math.MaxFloat64), "1.7976931348623157e+308 m"},
		{0.83 * units.Kilogram, "0.83 kg"},
		{1520 * units.PulseMicrosecond, "1520 µs"},
		{0.27 * units.PulseSecond, "0.27 s"},
		{0.03 * units.RadianPerSecond, "0.03 rad/s"},
		{35 * units.Percent, "35 %"},
		{0.35 * units.One, "0.35:1"},
		{0.41 * units.NewtonMetre, "0.41 N·m"},
	} {
		if got, err := c.quantity.MarshalText(); err != nil || string(got) != c.want {
			t.Errorf("got %q, %v, want %q", got, err, c.want)
		}
	}
}

func TestMarshalTextRefuses(t *testing.T) {
	for _, p := range probes {
		for _, x := range notFinite {
			text, err := p.marshal(x)
			var refused *units.NotFiniteError
			if !errors.As(err, &refused) || refused.Quantity != p.name || text != "" {
				t.Errorf("%s: %v is written %q, %v", p.name, x, text, err)
			}
		}
	}
}

// TestStringIsClose checks that a String is read as nearly the value it was
// made of.
func TestStringIsClose(t *testing.T) {
	const (
		// Half a unit in the sixth digit, relative to a number that begins 1,
		// and the rounding of the products.
		relative = 5e-6 * (1 + 1e-9)
		// The least step of a subnormal number, where relative errors have no
		// bound, in the largest of the preferred units: N/mm.
		absolute = 1000 * math.SmallestNonzeroFloat64
	)
	for _, p := range probes {
		t.Run(p.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				si := anyFinite.Draw(t, "si")
				text := p.format(si)
				got, err := p.parse(text)
				if err != nil || !(math.Abs(got-si) <= relative*math.Abs(si)+absolute) {
					t.Errorf("%.17g is shown as %q, which is read as %.17g, %v", si, text, got, err)
				}
			})
		})
	}
}

func TestString(t *testing.T) {
	minus := math.Copysign(0, -1)
	for _, c := range []struct{ got, want string }{
		{(9 * units.Degree).String(), "9°"},
		{(-9.25 * units.Degree).String(), "-9.25°"},
		{units.Angle(minus).String(), "0°"},
		{(units.Inch / 2).String(), "12.7 mm"},
		{units.Length(minus).String(), "0 mm"},
		{(units.Millimetre / 3).String(), "0.333333 mm"},
		{units.Length(math.MaxFloat64).String(), "1.79769e+308 m"},
		{units.Length(math.NaN()).String(), "NaN mm"},
		{units.Length(math.Inf(-1)).String(), "-Inf mm"},
		{(1520 * units.PulseMicrosecond).String(), "1520 µs"},
		{(35 * units.Percent).String(), "35 %"},
		{(8.5 * units.One).String(), "850 %"},
		{(2200 * units.RevolutionPerMinute).String(), "2200 rpm"},
		{(3.2 * units.Kilogram).String(), "3200 g"},
		{(58 * units.OunceForceInch).String(), "0.40957 N·m"},
		{(90 * units.Millisecond).String(), "0.09 s"},
		{(2 * units.KilogramForce).String(), "19.6133 N"},
		{(7.4 * units.Volt).String(), "7.4 V"},
		{(30 * units.Ampere).String(), "30 A"},
		{units.Horsepower.String(), "745.7 W"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// TestJSON checks that values and pointers are both written as text, also as
// the key of a map.
func TestJSON(t *testing.T) {
	radius := 12.5 * units.Millimetre
	in := map[units.Angle]*units.Length{9 * units.Degree: &radius}
	text, err := json.Marshal(in)
	if want := `{"9°":"12.5 mm"}`; err != nil || string(text) != want {
		t.Fatalf("got %s, %v, want %s", text, err, want)
	}
	var out map[units.Angle]*units.Length
	if err := json.Unmarshal(text, &out); err != nil || !cmp.Equal(in, out) {
		t.Errorf("got %v, %v back, want %v", out, err, in)
	}
	var bare units.Angle
	if err := json.Unmarshal([]byte("9"), &bare); err == nil {
		t.Errorf("a bare number is read as %v", bare)
	}
}

func BenchmarkMarshalText(b *testing.B) {
	for name, q := range map[string]units.Length{
		"preferred": 12.5 * units.Millimetre,
		"arbitrary": math.Pi * units.Inch,
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := q.MarshalText(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
