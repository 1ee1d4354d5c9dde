package linkage_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// testdata/linkages.json holds random linkages solved by another program, which
// shares nothing with this package: testdata/README.md tells how and which fields.
type reference struct {
	Lines  []solvedLinkage
	Arms   []solvedLinkage
	Chains []solvedChain
}

type solvedLinkage struct {
	Driving, Driven *solvedArm
	Ball, Along     [3]float64
	Travel          solvedTravel
	At              [][7]float64 // input, output, slope, and the angles of Motion in their order
}

type solvedArm struct {
	Shaft, Axis, Neutral [3]float64
	Radius, Link         float64
}

type solvedTravel struct {
	low, high     float64
	atLow, atHigh string
}

type solvedChain struct {
	Arms []int
	Line *int
	At   [][3]float64 // input, output, slope
}

func (s *solvedTravel) UnmarshalJSON(text []byte) error {
	return json.Unmarshal(text, &[]any{&s.low, &s.atLow, &s.high, &s.atHigh})
}

func point(p [3]float64) linkage.Point {
	return linkage.Point{X: units.Length(p[0]), Y: units.Length(p[1]), Z: units.Length(p[2])}
}

func direction(d [3]float64) linkage.Direction { return linkage.Direction{X: d[0], Y: d[1], Z: d[2]} }

func (a *solvedArm) spec() linkage.ArmSpec {
	return linkage.ArmSpec{
		Shaft:   point(a.Shaft),
		Axis:    direction(a.Axis),
		Neutral: direction(a.Neutral),
		Radius:  units.Length(a.Radius),
		Link:    units.Length(a.Link),
	}
}

func (s *solvedLinkage) build(t *testing.T) linkage.Linkage {
	if s.Driven != nil {
		return newArmToArm(t, linkage.ArmsSpec{Driving: s.Driving.spec(), Driven: s.Driven.spec()})
	}
	return newArmToLine(t, linkage.LineSpec{Arm: s.Driving.spec(), Ball: point(s.Ball), Along: direction(s.Along)})
}

// size is what an output's tolerance is relative to: 1 rad, or the greatest length.
func (s *solvedLinkage) size() float64 {
	if s.Driven != nil {
		return 1
	}
	return s.Driving.Radius + s.Driving.Link
}

func readReference(t *testing.T) reference {
	t.Helper()
	text, err := os.ReadFile("testdata/linkages.json")
	if err != nil {
		t.Fatal(err)
	}
	var r reference
	if err := json.Unmarshal(text, &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Lines) < 200 || len(r.Arms) < 200 || len(r.Chains) < 200 {
		t.Fatal("too few linkages")
	}
	return r
}

// Towards a dead centre a result loses digits as the sine of the angle there goes
// to 0, for the output stands at the crossing of two nearly parallel curves: the
// tolerances are divided by that sine. The table has angles down to 0.3° at the
// driving and 2.5° at the driven end. Each is some 20 times the largest difference.
const (
	referenceOut   = 1e-13 // of an output: rad, or relative to the linkage's size
	referenceSlope = 1e-11 // of a slope, relative
	referenceAngle = 1e-11 // of Motion's angles, rad: from their sines, that lose digits towards 90°
	referenceBack  = 1e-13 // of an input, rad
	// Of the travel's ends, rad. An end is where a sine passes 0, which is certain
	// to its rounding over its slope there: where two dead centres nearly meet, that
	// slope is small.
	referenceEnd = 1e-12
)

func TestReferenceLinkages(t *testing.T) {
	r := readReference(t)
	for kind, solved := range map[string][]solvedLinkage{"line": r.Lines, "arm": r.Arms} {
		for i, s := range solved {
			t.Run(fmt.Sprintf("%s %d", kind, i), func(t *testing.T) { s.check(t) })
		}
	}
}

func (s *solvedLinkage) check(t *testing.T) {
	l := s.build(t)
	travel := l.Travel()
	near(t, "travel's low end", travel.Low, s.Travel.low, referenceEnd)
	near(t, "travel's high end", travel.High, s.Travel.high, referenceEnd)
	stops := map[string]linkage.Stop{"none": linkage.Unbounded, "input": linkage.InputInLine, "output": linkage.OutputInLine}
	if want := stops[s.Travel.atLow]; travel.AtLow != want {
		t.Errorf("low end: %v, want %v", travel.AtLow, want)
	}
	if want := stops[s.Travel.atHigh]; travel.AtHigh != want {
		t.Errorf("high end: %v, want %v", travel.AtHigh, want)
	}
	for _, at := range s.At {
		in, out, slope, input, transmission, offSquare, cone := at[0], at[1], at[2], at[3], at[4], at[5], at[6]
		m, err := l.Move(in)
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, "output", m.Out, out, referenceOut*s.size()/math.Sin(transmission))
		near(t, "slope", m.Slope, slope, referenceSlope*math.Abs(slope))
		near(t, "angle at the input", float64(m.Input), input, referenceAngle)
		near(t, "angle at the output", float64(m.Transmission), transmission, referenceAngle)
		near(t, "angle past square", float64(m.OffSquare), offSquare, referenceAngle)
		near(t, "tilt of the link", float64(m.BallLinkAngle), cone, referenceAngle)
		back, err := l.Back(out)
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, "input for the output", back, in, referenceBack/math.Sin(input))
	}
}

func TestReferenceChains(t *testing.T) {
	r := readReference(t)
	for i, s := range r.Chains {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			var members []linkage.Linkage
			size := 1.
			for _, arm := range s.Arms {
				members = append(members, r.Arms[arm].build(t))
			}
			if s.Line != nil {
				members = append(members, r.Lines[*s.Line].build(t))
				size = r.Lines[*s.Line].size()
			}
			c, err := linkage.NewChain(members...)
			if err != nil {
				t.Fatal(err)
			}
			for _, at := range s.At {
				in, out, slope := at[0], at[1], at[2]
				m, err := c.Move(in)
				if err != nil {
					t.Error(err)
					continue
				}
				// Each member passes on the error of those before it, times its slope.
				amplified := 1.
				x := in
				for _, l := range members {
					next := move(t, l, x)
					amplified = amplified*math.Abs(next.Slope)/size + 1/math.Sin(float64(next.Transmission))
					x = next.Out
				}
				near(t, "output", m.Out, out, referenceOut*size*amplified)
				near(t, "slope", m.Slope, slope, referenceSlope*math.Abs(slope))
				back, err := c.Back(out)
				if err != nil {
					t.Error(err)
					continue
				}
				near(t, "input for the output", back, in, referenceBack*math.Max(1, size/math.Abs(m.Slope))/math.Sin(float64(m.Input)))
			}
		})
	}
}
