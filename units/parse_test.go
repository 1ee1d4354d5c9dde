package units_test

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

// A reading is a text and the quantity that it stands for.
type reading struct {
	text  string
	parse func(string) (float64, error)
	want  float64
}

func reads[Q units.Quantity](want Q, texts ...string) []reading {
	var readings []reading
	for _, text := range texts {
		readings = append(readings, reading{text, func(text string) (float64, error) {
			q, err := units.Parse[Q](text)
			return float64(q), err
		}, float64(want)})
	}
	return readings
}

// TestParse wants equality to the last bit: a text and the same product in Go
// are one calculation.
func TestParse(t *testing.T) {
	for _, r := range slices.Concat(
		reads(9*units.Degree, "9°", "9 °", "9 deg", "9deg", "+9 degrees", "9.0 °", "0.9e1°", "90E-1 deg", "9.°",
			"9\u00a0°", "9\u202f°", "\t9 ° \n"),
		reads(-9*units.Degree, "-9 degrees", "−9°", "-900e-2°", "−900e−2°"),
		reads(units.Degree, "1 degree"),
		reads(2*units.Radian, "2 rad", "2 radians", "2 radian"),
		reads(12.5*units.Millimetre, "12.5 mm", "12.5mm", "+12.5 millimetres", "25/2 mm"),
		reads(0.5*units.Millimetre, ".5 mm", "0.5 millimeter"),
		reads(2*units.Centimetre, "2 cm"),
		reads(2*units.Metre, "2 m", "2 metres", "2 meters"),
		reads(1.7e308*units.Metre, "1.7e308 m"),
		reads(0*units.Metre, "0 m", "0/5 in", "1e-400 mm"),
		reads(units.Inch/2, "1/2 in", "1/2in", `1/2"`, "1/2″", "0.5 inch", "0.5 inches"),
		reads(units.Inch*3/2, "1 1/2 in", "1\u00a01/2 in", "1  1/2 in", "3/2 in"),
		reads(units.Inch*-3/2, "-1 1/2 in", "−3/2 in"),
		reads(units.Inch*3/32, `3/32"`, "3/32 in"),
		reads(2*units.Foot, "2 ft", "2 feet"),
		reads(3.2*units.Kilogram, "3.2 kg"),
		reads(180*units.Gram, "180 g"),
		reads(2*units.Pound, "2 lb", "2 lbs"),
		reads(2*units.Ounce, "2 oz"),
		reads(0.09*units.Second, "0.09 s", "0.09 sec"),
		reads(20*units.Millisecond, "20 ms"),
		reads(20*units.Microsecond, "20 us"),
		reads(4*units.Minute, "4 min"),
		reads(1520*units.PulseMicrosecond, "1520 \u00b5s", "1520 \u03bcs", "1520 us", "1520us", "1520 microseconds"),
		reads(1.52*units.PulseMillisecond, "1.52 ms"),
		reads(2*units.Newton, "2 N"),
		reads(2*units.KilogramForce, "2 kgf"),
		reads(2*units.GramForce, "2 gf"),
		reads(2*units.OunceForce, "2 ozf"),
		reads(2*units.PoundForce, "2 lbf"),
		reads(0.41*units.NewtonMetre, "0.41 N·m", "0.41 Nm", "0.41 N m", "0.41 N.m", "0.41 N⋅m", "0.41 N*m",
			"0.41 N-m", "0.41 N · m", "0.41\u202fN\u00a0m"),
		reads(41*units.NewtonCentimetre, "41 N·cm", "41 Ncm"),
		reads(4.2*units.KilogramForceCentimetre, "4.2 kgf·cm", "4.2 kg-cm", "4.2 kg·cm", "4.2 kg.cm", "4.2kg*cm",
			"4.2 kg cm", "4.2 kgf - cm", "4.2 kgcm"),
		reads(58*units.OunceForceInch, "58 oz-in", "58 ozf·in", "58 oz in", "58 oz*in"),
		reads(2*units.PoundForceInch, "2 lbf·in", "2 in-lb"),
		reads(2*units.PoundForceFoot, "2 lbf·ft", "2 ft-lb"),
		reads(units.TransitSpeed(0.09*units.Second), "0.09 s/60°", "0.09 sec/60°", "0.09 s/60deg", "0.09s/60 deg",
			"0.09 s / 60°", "0.09 sec / 60 deg", "9/100 s/60°"),
		reads(2200*units.RevolutionPerMinute, "2200 rpm", "2200 RPM", "2200 r/min", "2.2e3 rev/min"),
		reads(2*units.RadianPerSecond, "2 rad/s"),
		reads(600*units.DegreePerSecond, "600°/s", "600 deg/s"),
		reads(35*units.Percent, "35 %", "35%", "35 percent"),
		reads(8.5*units.One, "8.5:1", "8.5 :1"),
		reads(7.4*units.Volt, "7.4 V"),
		reads(30*units.Ampere, "30 A"),
		reads(22*units.Milliohm, "22 mΩ", "22 mohm", "22 milliohms"),
		reads(1*units.Ohm, "1 Ω", "1 ohm", "1 \u2126"),
		reads(170*units.MetrePerSecond, "170 m/s"),
		reads(36*units.KilometrePerHour, "36 km/h"),
		reads(560*units.FootPerSecond, "560 ft/s"),
		reads(345*units.GramSquareCentimetre, "345 g·cm²", "345 g cm2", "345 g*cm^2"),
		reads(2*units.KilogramSquareMetre, "2 kg·m²", "2 kg-m2"),
		reads(850*units.Watt, "850 W"),
		reads(1.2*units.Horsepower, "1.2 hp"),
	) {
		if got, err := r.parse(r.text); err != nil || got != r.want {
			t.Errorf("Parse(%q) = %v, %v, want %v in SI units", r.text, got, err, r.want)
		}
	}
}

// TestParseRefuses reads each text as a length.
func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		want error
	}{
		{"", units.ErrNoNumber},
		{"mm", units.ErrNoNumber},
		{"- 9 mm", units.ErrNoNumber},
		{"--9 mm", units.ErrNoNumber},
		{"NaN mm", units.ErrNoNumber},
		{"Inf mm", units.ErrNoNumber},
		{"-infinity mm", units.ErrNoNumber},
		{". mm", units.ErrNoNumber},
		{"9 --mm", units.ErrUnknownUnit},
		{"9 -mm", units.ErrUnknownUnit},
		{"٣ mm", units.ErrNoNumber}, // an Arabic-Indic digit
		{"9", units.ErrNoUnit},
		{"0", units.ErrNoUnit},
		{"1 1/2", units.ErrNoUnit},
		{"12,5 mm", units.ErrComma},
		{"1,000 mm", units.ErrComma},
		{"0x1p3 mm", units.ErrUnknownUnit},
		{"1_000 mm", units.ErrUnknownUnit},
		{"1 000 mm", units.ErrUnknownUnit},
		{"1.2.3 mm", units.ErrUnknownUnit},
		{"1.5 1/2 in", units.ErrUnknownUnit},
		{"1/2/3 in", units.ErrUnknownUnit},
		{"1/-2 in", units.ErrUnknownUnit},
		{"9e mm", units.ErrUnknownUnit},
		{"9 mm x", units.ErrUnknownUnit},
		{"9 mm 9 mm", units.ErrUnknownUnit},
		{"9 m m", units.ErrUnknownUnit},
		{"9 Mm", units.ErrUnknownUnit},
		{"9°", units.ErrUnknownUnit},
		{"9 mm\x00", units.ErrUnknownUnit},
		{"9 \xff", units.ErrUnknownUnit},
		{"1/0 in", units.ErrZeroDivisor},
		{"0/0 in", units.ErrZeroDivisor},
		{"1e999 mm", units.ErrOverflow},
		{"-1e999 mm", units.ErrOverflow},
		{"1/" + strings.Repeat("9", 400) + " in", units.ErrOverflow},
		{strings.Repeat("9", 200) + " 1/" + strings.Repeat("9", 200) + " in", units.ErrOverflow},
	} {
		if _, err := units.Parse[units.Length](c.text); !errors.Is(err, c.want) {
			t.Errorf("Parse(%q): %v, want %v", c.text, err, c.want)
		}
	}
	for text, want := range map[string]error{
		"0 s/60°":      units.ErrZeroDivisor,
		"-0 s/60°":     units.ErrZeroDivisor,
		"1e-400 s/60°": units.ErrZeroDivisor, // as it rounds to 0
		"1e-320 s/60°": units.ErrOverflow,
	} {
		if _, err := units.Parse[units.AngularSpeed](text); !errors.Is(err, want) {
			t.Errorf("Parse(%q): %v, want %v", text, err, want)
		}
	}
	if _, err := units.Parse[units.Power]("1e306 hp"); !errors.Is(err, units.ErrOverflow) {
		t.Errorf("Parse of a product above the largest float64: %v", err)
	}
}

func TestParseError(t *testing.T) {
	_, err := units.Parse[units.Angle]("9")
	var got *units.ParseError
	if !errors.As(err, &got) {
		t.Fatalf("the error is a %T", err)
	}
	if diff := cmp.Diff(units.ParseError{
		Text: "9", Quantity: "angle", Units: []string{"°", "rad"}, Err: units.ErrNoUnit,
	}, *got, cmp.Comparer(func(a, b error) bool { return a == b })); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	const message = `angle "9" needs a unit, such as "9°" (or rad)`
	if got.Error() != message {
		t.Errorf("the message is\n%s\nwant\n%s", got, message)
	}
}

// TestMessages holds each cause to a text that says what to write instead.
func TestMessages(t *testing.T) {
	for text, want := range map[string]string{
		"mm":         `length "mm" must begin with a number; write for example "12.5 mm" (or cm, m, in, ft)`,
		" 1 1/2 ":    `length " 1 1/2 " needs a unit, such as "1 1/2 mm" (or cm, m, in, ft)`,
		"12":         `length "12" needs a unit, such as "12 mm" (or cm, m, in, ft)`,
		"1,5 mm":     `length "1,5 mm" has a comma; write a decimal point, such as "12.5 mm", and do not group digits`,
		"9 Mm":       `length "9 Mm" must be a number and then one of the units mm, cm, m, in, ft`,
		"1/0 in":     `length "1/0 in" divides by zero; write another number in its place`,
		"1e999 feet": `length "1e999 feet" is too large to calculate with; write a smaller number`,
	} {
		if _, err := units.Parse[units.Length](text); err == nil || err.Error() != want {
			t.Errorf("Parse(%q):\n%v\nwant\n%s", text, err, want)
		}
	}
	_, err := units.Length(math.NaN()).MarshalText()
	if want := "length NaN cannot be written; it must be a finite number"; err == nil || err.Error() != want {
		t.Errorf("MarshalText: %v, want %s", err, want)
	}
}

// TestUnitsThatFit checks that an error names its quantity, and only units that
// Parse then takes.
func TestUnitsThatFit(t *testing.T) {
	for _, p := range probes {
		_, err := p.parse("1")
		var parseError *units.ParseError
		if !errors.As(err, &parseError) {
			t.Errorf("%s: the error for a bare number is %v", p.name, err)
			continue
		}
		if parseError.Quantity != p.name {
			t.Errorf("%s: the error speaks of %s", p.name, parseError.Quantity)
		}
		for _, u := range parseError.Units {
			if si, err := p.parse("1" + u); err != nil || !(si > 0) {
				t.Errorf("%s: 1 %s is read as %v, %v", p.name, u, si, err)
			}
		}
	}
}

// TestUnmarshalText checks that UnmarshalText agrees with Parse, and that an
// error leaves the value as it was.
func TestUnmarshalText(t *testing.T) {
	const before = 42
	texts := []string{"9", "9 °", "9 mm", "9 rpm", "9 g", "9 ms", "9 N", "9 Nm", "9 V", "9 A", "9 W", "9 %"}
	for _, p := range probes {
		for _, text := range texts {
			want, wantErr := p.parse(text)
			if wantErr != nil {
				want = before
			}
			got, err := p.decode(text, before)
			if got != want || (err == nil) != (wantErr == nil) {
				t.Errorf("%s: UnmarshalText(%q) gives %v, %v, want %v, %v", p.name, text, got, err, want, wantErr)
			}
		}
	}
}

// TestSign checks that a sign negates, whatever the unit.
func TestSign(t *testing.T) {
	names := slices.Sorted(maps.Keys(heldUnits))
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.StringMatching(`[1-9][0-9]{0,5}(\.[0-9]{1,5})?|([1-9] )?[1-9]/[1-9]`).Draw(t, "number")
		h := heldUnits[rapid.SampledFrom(names).Draw(t, "unit")]
		plain, err := h.parse(number + h.spelling)
		if err != nil || !(plain > 0) {
			t.Fatalf("%s%s: %v, %v", number, h.spelling, plain, err)
		}
		for sign, want := range map[string]float64{"+": plain, "-": -plain, "−": -plain} {
			if got, err := h.parse(sign + number + h.spelling); err != nil || got != want {
				t.Errorf("%s%s%s: %v, %v, want %v", sign, number, h.spelling, got, err, want)
			}
		}
	})
}

// FuzzParse reads any text as every quantity. What can be read must come back
// from its own text; what cannot must be refused with a ParseError.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"9°", "-9 degrees", "−9e−1 deg", "12.5 mm", "1 1/2 in", `3/32"`, "4.2 kgf·cm", "58 oz-in", "0.41 Nm",
		"1520 µs", "0.09 s/60°", "0 s/60°", "2200 rpm", "35 %", "8.5:1", "1e308 kW", "12,5 mm", "0x1p3 g", "NaN V",
		"5e-324 rad", "-0 A",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, p := range probes {
			si, err := p.parse(text)
			if err != nil {
				var parseError *units.ParseError
				if !errors.As(err, &parseError) || parseError.Text != text || si != 0 {
					t.Errorf("%s: Parse(%q) = %v, %#v", p.name, text, si, err)
				}
				continue
			}
			checkRoundTrip(t, p, si)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := units.Parse[units.Torque]("4.2 kgf·cm"); err != nil {
			b.Fatal(err)
		}
	}
}
