package linkage_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
)

func newLever(t testing.TB, ratio float64, in, out linkage.Kind) *linkage.Lever {
	t.Helper()
	l, err := linkage.NewLever(ratio, in, out)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func newChain(t testing.TB, members ...linkage.Linkage) *linkage.Chain {
	t.Helper()
	c, err := linkage.NewChain(members...)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A lever multiplies, on and on, and divides on the way back.
func TestLever(t *testing.T) {
	kinds := rapid.SampledFrom([]linkage.Kind{linkage.Angle, linkage.Length})
	rapid.Check(t, func(t *rapid.T) {
		ratio := rapid.Float64Range(1e-6, 1e6).Draw(t, "ratio") * rapid.SampledFrom([]float64{1, -1}).Draw(t, "sense")
		in, from, to := rapid.Float64Range(-1e6, 1e6).Draw(t, "in"), kinds.Draw(t, "from"), kinds.Draw(t, "to")
		l, err := linkage.NewLever(ratio, from, to)
		if err != nil {
			t.Fatal(err)
		}
		m, err := l.Move(in)
		if err != nil {
			t.Fatal(err)
		}
		if want := (linkage.Motion{Out: ratio * in, Slope: ratio, Input: math.Pi / 2, Transmission: math.Pi / 2}); m != want {
			t.Fatalf("%v, want %v", m, want)
		}
		if m.Advantage() != 1/ratio {
			t.Fatalf("advantage %v", m.Advantage())
		}
		back, err := l.Back(m.Out)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back-in) > 1e-15*math.Abs(in) && math.Abs(in) > 1e-290 { // below, the product may lose digits
			t.Fatalf("%v came back as %v", in, back)
		}
		if i, o := l.Kinds(); i != from || o != to {
			t.Fatalf("kinds %v, %v", i, o)
		}
		for _, far := range []float64{l.Travel().High, l.Travel().Low} {
			if _, err := l.Move(far); err == nil {
				t.Fatalf("moved to %v", far)
			}
		}
	})
}

func TestNewLeverRefuses(t *testing.T) {
	for _, ratio := range []float64{0, math.Copysign(0, -1), math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := linkage.NewLever(ratio, linkage.Angle, linkage.Length)
		wantFieldError(t, fmt.Sprint(ratio), err, "ratio")
	}
}

// drawChain draws up to four linkages out of those of the reference table, with
// levers between, that make a chain.
func drawChain(t *rapid.T, r reference, build func(*solvedLinkage) linkage.Linkage) *linkage.Chain {
	var members []linkage.Linkage
	kind := linkage.Angle
	for range rapid.IntRange(1, 4).Draw(t, "members") {
		var next linkage.Linkage
		switch rapid.SampledFrom([]string{"arms", "line", "lever"}).Draw(t, "type") {
		case "arms":
			next = build(&r.Arms[rapid.IntRange(0, len(r.Arms)-1).Draw(t, "arms")])
		case "line":
			next = build(&r.Lines[rapid.IntRange(0, len(r.Lines)-1).Draw(t, "line")])
		case "lever":
			ratio := rapid.Float64Range(0.2, 5).Draw(t, "ratio") * rapid.SampledFrom([]float64{1, -1}).Draw(t, "sense")
			l, err := linkage.NewLever(ratio, kind, rapid.SampledFrom([]linkage.Kind{linkage.Angle, linkage.Length}).Draw(t, "out"))
			if err != nil {
				t.Fatal(err)
			}
			next = l
		}
		in, out := next.Kinds()
		if in != kind {
			t.Skip("the kinds do not fit")
		}
		members, kind = append(members, next), out
	}
	c, err := linkage.NewChain(members...)
	if err != nil {
		t.Skip(err)
	}
	return c
}

// through moves the members one after the other, and returns their inputs and the
// motion of all.
func through(members []linkage.Linkage, in float64) (ins []float64, all linkage.Motion, err error) {
	all = linkage.Motion{Out: in, Slope: 1, Input: math.Pi / 2, Transmission: math.Pi / 2}
	for i, l := range members {
		ins = append(ins, all.Out)
		m, err := l.Move(all.Out)
		if err != nil {
			return ins, linkage.Motion{}, err
		}
		all.Out, all.Slope = m.Out, all.Slope*m.Slope
		all.Input, all.Transmission = min(all.Input, m.Input), min(all.Transmission, m.Transmission)
		if i == 0 {
			all.OffSquare, all.BallLinkAngle = m.OffSquare, m.BallLinkAngle
		}
	}
	return ins, all, nil
}

func TestChain(t *testing.T) {
	const (
		back = 1e-9 // of the input that comes back, for each digit that the motion loses
		// How near the travel's end a chain is looked at, as a part of its travel,
		// and how near its end a member then is: the outputs before it go as the
		// square root of the distance from a dead centre at the worst.
		inside   = 1e-9
		atMember = 1e-3
	)
	r := readReference(t)
	build := func(s *solvedLinkage) linkage.Linkage { return s.build(t) }
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, r, build)
		members, travel := c.Members(), c.Travel()
		first := members[0].Travel()
		if !travel.Holds(0) || travel.Low < first.Low || travel.High > first.High {
			t.Fatalf("travel %v, its first member's %v", travel, first)
		}
		in, _ := members[0].Kinds()
		_, out := members[len(members)-1].Kinds()
		if i, o := c.Kinds(); i != in || o != out {
			t.Fatalf("kinds %v to %v, want %v to %v", i, o, in, out)
		}

		low, high := math.Max(travel.Low, -10), math.Min(travel.High, 10) // levers go on and on
		part := rapid.Float64Range(0.01, 0.99).Draw(t, "part")
		x := low + part*(high-low)
		m, err := c.Move(x)
		if err != nil {
			t.Fatal(err)
		}
		_, want, err := through(members, x)
		if err != nil {
			t.Fatal(err)
		}
		if m != want {
			t.Fatalf("%v, want %v", m, want)
		}
		got, err := c.Back(m.Out)
		if err != nil {
			t.Fatal(err)
		}
		if lost := math.Abs(m.Slope) * math.Sin(float64(m.Input)); math.Abs(got-x)*math.Min(lost, 1) > back {
			t.Fatalf("%v came back as %v", x, got)
		}

		// At either end some member is at its own, and has the same stop.
		for _, end := range []struct {
			at   float64
			stop linkage.Stop
		}{{travel.Low, travel.AtLow}, {travel.High, travel.AtHigh}} {
			if math.Abs(end.at) > 10 {
				continue
			}
			ins, _, err := through(members, end.at*(1-inside))
			if err != nil {
				t.Fatalf("inside the end %v: %v", end.at, err)
			}
			reached := false
			for i, l := range members[:len(ins)] {
				own := l.Travel()
				reached = reached ||
					own.High-ins[i] < atMember*math.Max(1, own.High) && own.AtHigh == end.stop ||
					ins[i]-own.Low < atMember*math.Max(1, -own.Low) && own.AtLow == end.stop
			}
			if !reached {
				t.Fatalf("no member is at its end at %v, the chain's", end.at)
			}
			if _, err := c.Move(end.at); err == nil {
				t.Fatalf("moved to the end %v", end.at)
			}
		}
	})
}

// A chain may be a member of another: it makes no difference how they are grouped.
func TestChainOfChains(t *testing.T) {
	e := examples(t)
	arm, lever, line := e["ArmToArm"], e["Lever"], e["ArmToLine"]
	all := newChain(t, arm, lever, line)
	for _, c := range []*linkage.Chain{newChain(t, newChain(t, arm, lever), line), newChain(t, arm, newChain(t, lever, line))} {
		near(t, "low end", c.Travel().Low, all.Travel().Low, 1e-12)
		near(t, "high end", c.Travel().High, all.Travel().High, 1e-12)
		for _, in := range []float64{-0.2, 0, 0.2} {
			got, want := move(t, c, in), move(t, all, in)
			near(t, "output", got.Out, want.Out, 0)
			near(t, "slope", got.Slope, want.Slope, halves)
		}
	}
}

func TestNewChainRefuses(t *testing.T) {
	e := examples(t)
	_, err := linkage.NewChain()
	wantFieldError(t, "none", err, "members")
	_, err = linkage.NewChain(e["ArmToLine"], e["ArmToArm"])
	wantFieldError(t, "a length for an angle", err, "members[1]")
	_, err = linkage.NewChain(e["Lever"], e["Lever"], newLever(t, 1, linkage.Length, linkage.Length))
	wantFieldError(t, "an angle for a length", err, "members[2]")
	// The slider of the crank stands 2.8 m out at neutral, which is no angle that
	// the next crank turns to.
	_, err = linkage.NewChain(e["ArmToLine"], newLever(t, 1, linkage.Length, linkage.Angle), e["ArmToLine"])
	wantFieldError(t, "outside at neutral", err, "members[2]")
}
