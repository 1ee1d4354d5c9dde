package linkage_test

import (
	"errors"
	"math"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// halves is what rounding leaves of numbers of order 1 that a sum or two made.
const halves = 1e-15

// examples returns one linkage of each type, with an input and an output that it
// takes.
func examples(t testing.TB) map[string]linkage.Linkage {
	t.Helper()
	line := newArmToLine(t, linkage.SliderCrank(1, 3, 0, 90*units.Degree))
	arm := newArmToArm(t, linkage.FourBar(40, 120, 80, 100, 40*units.Degree, 57*units.Degree))
	lever := newLever(t, -0.5, linkage.Angle, linkage.Angle)
	return map[string]linkage.Linkage{
		"ArmToLine": line,
		"ArmToArm":  arm,
		"Lever":     lever,
		"Chain":     newChain(t, arm, lever, line),
	}
}

func wantTravelError(t *testing.T, what string, err error) *linkage.TravelError {
	t.Helper()
	var travel *linkage.TravelError
	if !errors.As(err, &travel) {
		t.Fatalf("%s: %v, want a TravelError", what, err)
	}
	return travel
}

func wantFieldError(t *testing.T, what string, err error, field string) {
	t.Helper()
	var spec *units.FieldError
	if !errors.As(err, &spec) || spec.Field != field {
		t.Errorf("%s: %v, want a FieldError of %s", what, err, field)
	}
}

// A crank of 1 and a rod of 3 work between the two dead centres, 0° and 180°: from
// 4 to 2 along the line.
func TestTravelInputInLine(t *testing.T) {
	l := newArmToLine(t, linkage.SliderCrank(1, 3, 0, 90*units.Degree))
	travel := l.Travel()
	near(t, "low end", travel.Low, -math.Pi/2, halves)
	near(t, "high end", travel.High, math.Pi/2, halves)
	for _, c := range []struct{ in, excess float64 }{{2, 2 - math.Pi/2}, {-2, math.Pi/2 - 2}, {travel.High, 0}, {travel.Low, 0}} {
		_, err := l.Move(c.in)
		e := wantTravelError(t, "Move", err)
		if e.In != c.in || e.Stop != linkage.InputInLine {
			t.Errorf("Move(%v): %#v", c.in, e)
		}
		near(t, "excess", e.Excess, c.excess, halves)
	}
	for _, c := range []struct{ out, excess float64 }{{4.5, 0.5}, {1.5, -0.5}} {
		_, err := l.Back(c.out)
		e := wantTravelError(t, "Back", err)
		if !math.IsNaN(e.In) || e.Out != c.out || e.Stop != linkage.InputInLine {
			t.Errorf("Back(%v): %#v", c.out, e)
		}
		near(t, "excess", e.Excess, c.excess, halves)
	}
}

// A crank of 3 cannot lift a rod of 1 further than that: the rod is then square to
// the slider's line.
func TestTravelOutputInLine(t *testing.T) {
	const neutral = 10 * units.Degree
	l := newArmToLine(t, linkage.SliderCrank(3, 1, 0, neutral))
	// The slider ahead of the crank, from 4 down to the square root of 8.
	top, square := 4., math.Sqrt(8)
	travel := l.Travel()
	near(t, "low end", travel.Low, -float64(neutral), halves)
	near(t, "high end", travel.High, math.Asin(1./3)-float64(neutral), halves)
	if travel.AtLow != linkage.InputInLine || travel.AtHigh != linkage.OutputInLine {
		t.Errorf("stops: %v, %v", travel.AtLow, travel.AtHigh)
	}
	_, err := l.Move(0.5)
	if e := wantTravelError(t, "Move", err); e.Stop != linkage.OutputInLine {
		t.Errorf("Move: %#v", e)
	}
	_, err = l.Back(square - 0.1)
	if e := wantTravelError(t, "Back", err); e.Stop != linkage.OutputInLine || math.Abs(e.Excess+0.1) > 1e-7 { // the output goes as the root of the input there
		t.Errorf("Back: %#v", e)
	}
	_, err = l.Back(top + 0.1)
	if e := wantTravelError(t, "Back", err); e.Stop != linkage.InputInLine || math.Abs(e.Excess-0.1) > halves {
		t.Errorf("Back: %#v", e)
	}
}

// A four-bar whose ground is the shortest, and with the longest is shorter than the
// other two, turns all round at both shafts (F. Grashof's law). The driven arm goes
// round once with the driving one, without a jump.
func TestTravelUnbounded(t *testing.T) {
	const (
		steps   = 1000
		largest = 0.1   // of the output's steps: at most some ten times the input's
		back    = 1e-12 // rad
		end     = 1e-8  // rad: how far from the ends of its travel it is looked at
	)
	l := newArmToArm(t, linkage.FourBar(3, 2.5, 3.5, 1, 0, 90*units.Degree))
	travel := l.Travel()
	if want := (linkage.Travel{Low: -math.Pi, High: math.Pi}); travel != want {
		t.Errorf("travel %v, want %v", travel, want)
	}
	low, high := travel.Low+end, travel.High-end
	near(t, "turn of the output", move(t, l, high).Out-move(t, l, low).Out, 2*math.Pi, 10*end)
	last := math.NaN()
	for i := range steps + 1 {
		in := low + float64(i)/steps*(high-low)
		out := move(t, l, in).Out
		if i > 0 && !(out > last && out < last+largest) {
			t.Fatalf("the output goes from %v to %v at %v", last, out, in)
		}
		got, err := l.Back(out)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "input for the output", got, in, back)
		last = out
	}
}

// No number comes of an input or output that is none, nor of a far one.
func TestRefusesNonFinite(t *testing.T) {
	for name, l := range examples(t) {
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			m, err := l.Move(x)
			e := wantTravelError(t, name+" Move", err)
			if m != (linkage.Motion{}) || e.In != x && !math.IsNaN(x) {
				t.Errorf("%s.Move(%v) = %v, %#v", name, x, m, e)
			}
			in, err := l.Back(x)
			e = wantTravelError(t, name+" Back", err)
			if in != 0 || !math.IsNaN(e.In) || e.Out != x && !math.IsNaN(x) {
				t.Errorf("%s.Back(%v) = %v, %#v", name, x, in, e)
			}
			if err.Error() == "" {
				t.Errorf("%s: no message", name)
			}
		}
	}
}

func TestNewArmToLineRefuses(t *testing.T) {
	for _, c := range []struct {
		name, field string
		spoil       func(*linkage.LineSpec)
	}{
		{"no radius", "Arm.Radius", func(s *linkage.LineSpec) { s.Arm.Radius = 0 }},
		{"ball nowhere", "Ball.Z", func(s *linkage.LineSpec) { s.Ball.Z = units.Length(math.NaN()) }},
		{"no direction", "Along", func(s *linkage.LineSpec) { s.Along = linkage.Direction{} }},
		{"no side", "Side", func(s *linkage.LineSpec) { s.Side = 2 }},
		{"line too far off", "Arm.Link", func(s *linkage.LineSpec) { s.Ball.Z = 5 }},
		{"crank in line with its rod", "Arm", func(s *linkage.LineSpec) { s.Arm.Neutral = linkage.Direction{X: 1} }},
		{"rod square to the slider", "Arm", func(s *linkage.LineSpec) { s.Arm.Link = 1 }},
	} {
		s := linkage.SliderCrank(1, 3, 0, 90*units.Degree)
		s.Arm.Neutral = linkage.Direction{Y: 1} // exactly
		c.spoil(&s)
		_, err := linkage.NewArmToLine(s)
		wantFieldError(t, c.name, err, c.field)
	}
}

func TestNewArmToArmRefuses(t *testing.T) {
	for _, c := range []struct {
		name, field string
		spec        linkage.ArmsSpec
	}{
		// Both are drawn upright.
		{"no radius", "Driving.Radius", linkage.FourBar(0, 120, 80, 100, 0, 1)},
		{"no driven radius", "Driven.Radius", linkage.FourBar(40, 120, 0, 100, 0, 1)},
		{"link too short", "Driving.Link", linkage.FourBar(3, 1, 1, 4, 0, 2)},
		{"link too long", "Driving.Link", linkage.FourBar(3, 8, 1, 4, 0, 2)},
		{"crank in line with the coupler", "Driving", linkage.FourBar(3, 1, 5, 3, 0, 2.2)},
		{"coupler in line with the rocker", "Driving", linkage.FourBar(3, 3, 2, 4, 0, 2.5)},
	} {
		c.spec.Driving.Neutral, c.spec.Driven.Neutral = linkage.Direction{Y: 1}, linkage.Direction{Y: 1} // exactly
		_, err := linkage.NewArmToArm(c.spec)
		wantFieldError(t, c.name, err, c.field)
	}
}

// Of the two places that a link reaches at neutral the named one is meant, or else
// the nearer to the drawn ball.
func TestSide(t *testing.T) {
	s := linkage.SliderCrank(1, 3, 0, 90*units.Degree)
	for _, side := range []linkage.Branch{linkage.Ahead, linkage.Behind} {
		sign := float64(side)
		s.Ball.X, s.Side = units.Length(-2*sign), side
		near(t, "named side", -2*sign+move(t, newArmToLine(t, s), 0).Out, sign*math.Sqrt(8), halves)
		s.Ball.X, s.Side = units.Length(2*sign), 0
		near(t, "nearer side", 2*sign+move(t, newArmToLine(t, s), 0).Out, sign*math.Sqrt(8), halves)
	}
}

func TestLinkagesDoNotAllocate(t *testing.T) {
	for name, l := range examples(t) {
		const in = 0.2
		out := move(t, l, in).Out
		if n := testing.AllocsPerRun(100, func() {
			if _, err := l.Move(in); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("%s: Move allocates %v times", name, n)
		}
		if n := testing.AllocsPerRun(100, func() {
			if _, err := l.Back(out); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("%s: Back allocates %v times", name, n)
		}
	}
}

func BenchmarkMove(b *testing.B) {
	for name, l := range examples(b) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := l.Move(0.2); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkBack(b *testing.B) {
	for name, l := range examples(b) {
		out := move(b, l, 0.2).Out
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := l.Back(out); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Most of the time goes into looking for the ends of the travel.
func BenchmarkNewArmToArm(b *testing.B) {
	spec := linkage.FourBar(12*units.Millimetre, 40*units.Millimetre, 15*units.Millimetre, 40*units.Millimetre, math.Pi/2, math.Pi/2)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := linkage.NewArmToArm(spec); err != nil {
			b.Fatal(err)
		}
	}
}

// An end at which the link does not reach, and reaches again within a stride of the
// search, is where the travel ends. Found by FuzzArmToLine.
func TestTravelEndsBeforeAGap(t *testing.T) {
	spec := linkage.SliderCrank(0.07, 0.05, 0.02, 125.92857142857139)
	spec.Along = linkage.Direction{X: 454, Y: 0.6166666666666667, Z: 6.875}
	l, err := linkage.NewArmToLine(spec)
	if err != nil {
		t.Fatal(err)
	}
	travel := l.Travel()
	if travel.High > 1.307 || travel.AtHigh != linkage.OutputInLine {
		t.Errorf("%+v, and at 1.307 the link does not reach", travel)
	}
	for in := 0.; in < travel.High*(1-1e-9); in += 1e-5 {
		if _, err := l.Move(in); err != nil {
			t.Fatal(err)
		}
	}
}
