package linkagetest_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/linkage/linkagetest"
	"example.org/levelhead/units"
)

// spoilt is a yoke of radius 1 of which a method may be spoilt.
type spoilt struct {
	Yoke
	kinds  func() (in, out linkage.Kind)
	travel func() linkage.Travel
	move   func(in float64) (linkage.Motion, error)
	back   func(out float64) (float64, error)
}

var good = &Yoke{1}

func (s *spoilt) Kinds() (in, out linkage.Kind) {
	if s.kinds != nil {
		return s.kinds()
	}
	return good.Kinds()
}

func (s *spoilt) Travel() linkage.Travel {
	if s.travel != nil {
		return s.travel()
	}
	return good.Travel()
}

func (s *spoilt) Move(in float64) (linkage.Motion, error) {
	if s.move != nil {
		return s.move(in)
	}
	return good.Move(in)
}

func (s *spoilt) Back(out float64) (float64, error) {
	if s.back != nil {
		return s.back(out)
	}
	return good.Back(out)
}

// motions spoils the motions that a good yoke gives.
func motions(spoil func(in float64, m *linkage.Motion)) func(float64) (linkage.Motion, error) {
	return func(in float64) (linkage.Motion, error) {
		m, err := good.Move(in)
		if err == nil {
			spoil(in, &m)
		}
		return m, err
	}
}

// rod is a slider-crank whose rod is shorter than its crank: it ends where the rod stands square
// to the slider, and on the other side where crank and rod are in line.
var rod, _ = linkage.NewArmToLine(linkage.SliderCrank(2, 1.5, 0, 30*units.Degree))

// rods is rod with its motions or its travel spoilt.
func rods(spoil func(m *linkage.Motion), retold func(t *linkage.Travel)) spoilt {
	return spoilt{kinds: rod.Kinds, back: rod.Back, move: func(in float64) (linkage.Motion, error) {
		m, err := rod.Move(in)
		if err == nil {
			spoil(&m)
		}
		return m, err
	}, travel: func() linkage.Travel {
		t := rod.Travel()
		retold(&t)
		return t
	}}
}

func asItIs[T any](*T) {}

var sink []float64 // keeps an allocation from being left out

func TestBroken(t *testing.T) {
	count := 0 // of calls, by which some change their mind
	for name, test := range map[string]struct {
		linkage spoilt
		laws    []int  // all that are broken, in rising order
		says    string // by the error of one of them
	}{
		"inverse off": {spoilt{back: func(out float64) (float64, error) {
			in, err := good.Back(out)
			return in * (1 + 1e-9), err
		}}, []int{1}, "Back after Move gives"},
		"inverse on the other branch": {spoilt{back: func(out float64) (float64, error) {
			in, err := good.Back(out)
			if err == nil {
				in = math.Pi - in
			}
			return in, err
		}}, []int{1}, "Back after Move gives 4.712"},
		"inverse refuses": {spoilt{back: func(out float64) (float64, error) {
			if out > 0.5 {
				return 0, &linkage.TravelError{In: math.NaN(), Out: out, Excess: out - 1}
			}
			return good.Back(out)
		}}, []int{1}, "Back refuses"},
		"slope off": {spoilt{move: motions(func(_ float64, m *linkage.Motion) {
			m.Slope *= 1 + 1e-5
		})}, []int{2}, "and the derivative of Out"},
		"slope in degrees": {spoilt{move: motions(func(_ float64, m *linkage.Motion) {
			m.Slope *= math.Pi / 180
		})}, []int{2}, "and the derivative of Out"},
		"slope against the motion": {spoilt{move: motions(func(_ float64, m *linkage.Motion) {
			m.Slope = -m.Slope
		})}, []int{2, 3}, "and the derivative of Out"},
		"jump": {spoilt{move: motions(func(in float64, m *linkage.Motion) {
			if in > 0.3 {
				m.Out += 0.001
			}
		})}, []int{1, 3, 4}, "Out jumps by 0.001"},
		"other branch": {spoilt{move: motions(func(in float64, m *linkage.Motion) {
			if in > 0.3 {
				m.Out = -m.Out
			}
		})}, []int{1, 2, 3, 4}, "Out jumps by 0.591"},
		"turns back": {spoilt{
			travel: func() linkage.Travel { return linkage.Travel{Low: -2, High: 2} },
			move: func(in float64) (linkage.Motion, error) {
				if !(math.Abs(in) < 2) {
					return linkage.Motion{}, &linkage.TravelError{In: in, Excess: in - math.Copysign(2, in)}
				}
				sin, cos := math.Sincos(in)
				return linkage.Motion{Out: sin, Slope: cos, Input: 1, Transmission: 1}, nil
			},
		}, []int{1, 3, 4}, "against the slope at neutral"},
		"travel without 0": {spoilt{travel: func() linkage.Travel {
			return linkage.Travel{Low: 0, High: 1}
		}}, []int{3}, "does not hold 0"},
		"travel of NaN": {spoilt{travel: func() linkage.Travel {
			return linkage.Travel{Low: math.NaN(), High: math.NaN()}
		}}, []int{3}, "does not hold 0"},
		"answers outside the travel": {spoilt{move: func(in float64) (linkage.Motion, error) {
			sin, cos := math.Sincos(in)
			return linkage.Motion{Out: sin, Slope: cos, Input: units.Angle(math.Pi/2 - math.Abs(in)), Transmission: 1}, nil
		}}, []int{4}, "Move answers outside the travel"},
		"answers at the end": {spoilt{move: func(in float64) (linkage.Motion, error) {
			if math.Abs(in) == math.Pi/2 {
				return linkage.Motion{Out: math.Copysign(1, in), Slope: 1, Input: 1, Transmission: 1}, nil
			}
			return good.Move(in)
		}}, []int{4}, "Move answers outside the travel"},
		"answers beyond the outputs": {spoilt{back: func(out float64) (float64, error) {
			return math.Asin(max(-1, min(out, 1))), nil // clamps, and lets NaN through
		}}, []int{4}, "though the travel's ends give"},
		"NaN for NaN": {spoilt{move: func(in float64) (linkage.Motion, error) {
			if math.IsNaN(in) {
				return linkage.Motion{Out: in, Slope: in, Input: 1, Transmission: 1}, nil
			}
			return good.Move(in)
		}}, []int{4}, "at NaN: Move answers"},
		"untyped errors": {spoilt{move: func(in float64) (linkage.Motion, error) {
			m, err := good.Move(in)
			if err != nil {
				err = errors.New("out of travel")
			}
			return m, err
		}, back: func(out float64) (float64, error) {
			in, err := good.Back(out)
			if err != nil {
				err = errors.New("out of reach")
			}
			return in, err
		}}, []int{4}, "not a *linkage.TravelError"},
		"motion with an error": {spoilt{move: func(in float64) (linkage.Motion, error) {
			m, err := good.Move(in)
			if err != nil {
				m.Out = in
			}
			return m, err
		}}, []int{4}, "Move gives numbers with its error"},
		"input with an error": {spoilt{back: func(out float64) (float64, error) {
			in, err := good.Back(out)
			if err != nil {
				in = math.NaN()
			}
			return in, err
		}}, []int{4}, "Back gives a number with its error"},
		"error about something else": {spoilt{move: func(in float64) (linkage.Motion, error) {
			if _, err := good.Move(in); err != nil {
				return linkage.Motion{}, &linkage.TravelError{Excess: in - math.Copysign(math.Pi/2, in)}
			}
			return good.Move(in)
		}, back: func(out float64) (float64, error) {
			if _, err := good.Back(out); err != nil {
				return 0, &linkage.TravelError{Excess: out - math.Copysign(1, out)}
			}
			return good.Back(out)
		}}, []int{4}, "error tells of the input"},
		"excess the wrong way": {spoilt{back: func(out float64) (float64, error) {
			in, err := good.Back(out)
			if e, ok := err.(*linkage.TravelError); ok {
				e.Excess = -e.Excess
			}
			return in, err
		}}, []int{4}, "tells of an excess"},
		"NaN inside": {spoilt{move: motions(func(in float64, m *linkage.Motion) {
			if in > 1 {
				m.Out = math.NaN()
			}
		})}, []int{5}, "Out NaN"},
		"infinite slope": {spoilt{move: motions(func(in float64, m *linkage.Motion) {
			if in == 0 {
				m.Slope = math.Inf(1)
			}
		})}, []int{5}, "Slope +Inf"},
		"refuses inside": {spoilt{move: func(in float64) (linkage.Motion, error) {
			if in > 1 {
				return linkage.Motion{}, &linkage.TravelError{In: in, Excess: in - math.Pi/2}
			}
			return good.Move(in)
		}}, []int{4, 5}, "Move refuses an input within the travel"},
		"angle above 90°": {spoilt{move: motions(func(in float64, m *linkage.Motion) {
			if in == 0 {
				m.Input = 3.1
			}
		})}, []int{5}, "Input 177.617°"},
		"angle of 0": {spoilt{move: motions(func(in float64, m *linkage.Motion) {
			if in == 0 {
				m.Transmission = 0
			}
		})}, []int{5}, "Transmission 0°"},
		"Move allocates": {spoilt{move: func(in float64) (linkage.Motion, error) {
			sink = make([]float64, 1)
			return good.Move(in)
		}}, []int{6}, "Move allocates 1 times"},
		"Back allocates": {spoilt{back: func(out float64) (float64, error) {
			sink = make([]float64, 1)
			return good.Back(out)
		}}, []int{6}, "Back allocates 1 times"},
		"input angle that does not go to nothing": {spoilt{move: motions(func(_ float64, m *linkage.Motion) {
			m.Input = 1
		})}, []int{8}, "Input is 57.2958°"},
		"transmission angle that does not go to nothing": {rods(func(m *linkage.Motion) {
			m.Transmission = 1
		}, asItIs), []int{8}, "Transmission is 57.2958°"},
		"transmission angle that goes to half of what it was": {rods(func(m *linkage.Motion) {
			m.Transmission = (m.Transmission + 0.5) / 2
		}, asItIs), []int{8}, "Transmission is 14.324°"},
		"unbounded where the slope vanishes": {spoilt{travel: func() linkage.Travel {
			t := good.Travel()
			t.AtHigh = linkage.Unbounded
			return t
		}}, []int{8}, "said to be unbounded, and yet Slope goes to"},
		"unbounded where the slope grows": {rods(asItIs, func(t *linkage.Travel) {
			t.AtHigh = linkage.Unbounded
		}), []int{8}, "said to be unbounded, and yet Slope goes to"},
		"the other stop": {rods(asItIs, func(t *linkage.Travel) {
			t.AtHigh, t.AtLow = t.AtLow, t.AtHigh
		}), []int{8}, "Input is"},
		"unknown stop": {spoilt{travel: func() linkage.Travel {
			t := good.Travel()
			t.AtLow = 7
			return t
		}}, []int{8}, "not declared"},
		"unknown kind": {spoilt{kinds: func() (in, out linkage.Kind) {
			return linkage.Angle, 7
		}}, []int{7}, "not declared"},
		"kind changes": {spoilt{kinds: func() (in, out linkage.Kind) {
			count++
			return linkage.Angle, linkage.Kind(count % 2)
		}}, []int{7}, "Kinds were"},
		"travel changes": {spoilt{travel: func() linkage.Travel {
			t := good.Travel()
			if count++; count%2 == 0 {
				t.Low = math.Nextafter(t.Low, -2)
			}
			return t
		}}, []int{7}, "Travel was"},
		"answers change": {spoilt{move: motions(func(in float64, m *linkage.Motion) {
			if count++; count%2 == 0 {
				m.Transmission = 1
			}
		})}, []int{7}, "and then"},
		"inputs change": {spoilt{back: func(out float64) (float64, error) {
			in, err := good.Back(out)
			if count++; err == nil && count%2 == 0 {
				in = math.Nextafter(in, 1)
			}
			return in, err
		}}, []int{7}, "Back gives"},
	} {
		t.Run(name, func(t *testing.T) {
			broken := broken(t, linkagetest.Check(&test.linkage))
			var laws []int
			for _, e := range broken {
				laws = append(laws, e.Law)
			}
			slices.Sort(laws)
			if laws = slices.Compact(laws); !slices.Equal(laws, test.laws) {
				t.Errorf("breaks the laws %v, want %v: %v", laws, test.laws, broken)
			}
			if !slices.ContainsFunc(broken, func(e *linkagetest.LawError) bool { return strings.Contains(e.Error(), test.says) }) {
				t.Errorf("%v, want %q", broken, test.says)
			}
		})
	}
}

// misplaced is a slider-crank whose ends, or whose derivative over the link, may be spoilt.
type misplaced struct {
	*linkage.ArmToLine
	ends   func(a, b *linkage.End)
	slopes func(s []float64) []float64
}

func (m *misplaced) Ends(in, out float64) (a, b linkage.End) {
	a, b = m.ArmToLine.Ends(in, out)
	m.ends(&a, &b)
	return a, b
}

func (m *misplaced) LinkSlopes(dst []float64, in float64) ([]float64, error) {
	dst, err := m.ArmToLine.LinkSlopes(dst, in)
	return m.slopes(dst), err
}

func TestMisplaced(t *testing.T) {
	none := func(a, b *linkage.End) {}
	same := func(s []float64) []float64 { return s }
	if err := linkagetest.Check(&misplaced{rod, none, same}); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		linkage misplaced
		says    string
	}{
		{misplaced{rod, func(a, _ *linkage.End) { a.Slope.X *= 1.001 }, same}, "the driving end's Slope is"},
		{misplaced{rod, func(_, b *linkage.End) { b.Slope.X = -b.Slope.X }, same}, "the driven end's Slope is"},
		{misplaced{rod, func(_, b *linkage.End) { b.Ball.Y += b.Ball.X / 1000 }, same}, "and differences of its Ball"},
		{misplaced{rod, func(a, b *linkage.End) { *a, *b = *b, *a }, same}, "the driving end's Slope is"},
		{misplaced{rod, func(a, _ *linkage.End) { a.Ball = a.Shaft }, same}, "the link is"},
		{misplaced{rod, none, func(s []float64) []float64 { s[0] = -s[0]; return s }}, "LinkSlopes gives"},
		{misplaced{rod, none, func(s []float64) []float64 { return s[:0] }}, "and there is one link"},
	} {
		list := broken(t, linkagetest.Check(&test.linkage))
		if !slices.ContainsFunc(list, func(e *linkagetest.LawError) bool { return e.Law == 9 && strings.Contains(e.Error(), test.says) }) {
			t.Errorf("%v, want %q", list, test.says)
		}
	}
}

// broken takes apart what Check returns.
func broken(t *testing.T, err error) []*linkagetest.LawError {
	t.Helper()
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		t.Fatalf("Check returns %v", err)
	}
	var list []*linkagetest.LawError
	for _, err := range joined.Unwrap() {
		var e *linkagetest.LawError
		if !errors.As(err, &e) {
			t.Fatalf("Check returns a %T", err)
		}
		list = append(list, e)
	}
	return list
}

// A slider-crank moves its slider further inwards than outwards, so it is not odd;
// and a travel cut on one side is not.
func TestNotOdd(t *testing.T) {
	crank, err := linkage.NewArmToLine(linkage.SliderCrank(1, 4, 0, math.Pi/2))
	if err != nil {
		t.Fatal(err)
	}
	if err := linkagetest.Check(crank); err != nil {
		t.Error(err)
	}
	cut := &spoilt{}
	cut.travel = func() linkage.Travel { return linkage.Travel{Low: -1, High: math.Pi / 2} }
	cut.move = func(in float64) (linkage.Motion, error) {
		if in <= -1 {
			return linkage.Motion{}, &linkage.TravelError{In: in, Excess: in + 1}
		}
		return good.Move(in)
	}
	for _, l := range []linkage.Linkage{crank, cut} {
		if !slices.ContainsFunc(broken(t, linkagetest.Check(l, linkagetest.Odd)), func(e *linkagetest.LawError) bool {
			return e.Law == 0 && e.Name == "odd"
		}) {
			t.Errorf("%T passes as odd", l)
		}
	}
}

// An unknown claim is a mistake in the test that makes it.
func TestUnknownClaim(t *testing.T) {
	if err := linkagetest.Check(good, linkagetest.Claim(99)); err == nil {
		t.Error("a claim that does not exist passes")
	}
}

// Where one thing is wrong in many places it is told once.
func TestLawError(t *testing.T) {
	slope := &spoilt{move: motions(func(_ float64, m *linkage.Motion) { m.Slope *= 2 })}
	list := broken(t, linkagetest.Check(slope))
	if len(list) != 1 {
		t.Fatal(list)
	}
	const want = "linkagetest: law 2, slope: at -1.57060"
	if got := list[0].Error(); !strings.HasPrefix(got, want) || !strings.HasSuffix(got, "other places)") {
		t.Errorf("%s, want %s…", got, want)
	}
	if list[0].More == 0 {
		t.Error("the other places are not counted")
	}
}
