package linkage_test

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// readTable returns the rows of a table in testdata by their column names. Each
// table's header lines tell its source.
func readTable(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var table []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = row[i]
		}
		table = append(table, m)
	}
	if len(table) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return table
}

func value(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// A slider-crank is an arm whose link ends on a straight guide. The cases are
// from published exercises and from R. L. Norton, Design of Machinery, Example
// 4-2 (from memory), with exact columns computed by another program:
// testdata/slider_crank.csv names each.
func TestSliderCrank(t *testing.T) {
	const tolerance = 1e-9 // degree, and of the slider's speed relative
	for _, row := range readTable(t, "slider_crank.csv") {
		theta, x := value(t, row, "theta_deg"), value(t, row, "x_exact")
		a, err := linkage.NewArm(linkage.ArmSpec{
			Axis:    linkage.Direction{Z: 1},
			Neutral: linkage.Direction{X: 1},
			Radius:  units.Length(value(t, row, "a")),
			Link:    units.Length(value(t, row, "b")),
		})
		if err != nil {
			t.Fatal(err)
		}
		slider := linkage.Point{X: units.Length(x), Y: units.Length(value(t, row, "e"))}
		q, err := a.AngleTo(slider, linkage.Ahead)
		if err != nil {
			t.Fatal(err)
		}
		if off := q.Degrees() - theta; math.Abs(off) > tolerance {
			t.Errorf("case %s: crank at %v°, want %v°", row["case"], q.Degrees(), theta)
		}
		// The slider's speed from the lever: along the link both ends move alike.
		ball, slope := a.Ball(q)
		w := r3.Unit(r3.Sub(slider.Vec(), ball.Vec()))
		got := value(t, row, "omega") * r3.Dot(w, slope.Vec()) / w.X
		if want := value(t, row, "v_exact"); math.Abs(got-want) > tolerance*math.Abs(want) {
			t.Errorf("case %s: slider at %v, want %v", row["case"], got, want)
		}
	}
}

// testdata/threads.csv holds the coarse pitches of ISO 261 and the Unified series
// of ASME B1.1, from the sources that it names.
func TestThreads(t *testing.T) {
	for _, row := range readTable(t, "threads.csv") {
		size, _, _ := strings.Cut(row["thread"], " ") // without the series
		got, err := linkage.Thread(size).Pitch()
		if err != nil {
			t.Error(err)
			continue
		}
		if want := value(t, row, "pitch_mm"); math.Abs(got.Millimetres()-want) > 1e-11 {
			t.Errorf("%s: %v mm, want %v mm", size, got.Millimetres(), want)
		}
	}
	var spec *units.FieldError
	if _, err := linkage.Thread("M7").Pitch(); !errors.As(err, &spec) {
		t.Errorf("M7: %v", err)
	}
}

func drawSpec(t *rapid.T) linkage.ArmSpec {
	part := rapid.Float64Range(-1, 1)
	u := r3.Vec{X: part.Draw(t, "ux"), Y: part.Draw(t, "uy"), Z: part.Draw(t, "uz")}
	v := r3.Vec{X: part.Draw(t, "vx"), Y: part.Draw(t, "vy"), Z: part.Draw(t, "vz")}
	n := r3.Cross(u, v)
	if r3.Norm(n) < 0.01 {
		t.Skip("axis and arm too nearly parallel")
	}
	mm := func(lo, hi float64, name string) units.Length {
		return units.Length(rapid.Float64Range(lo, hi).Draw(t, name)) * units.Millimetre
	}
	return linkage.ArmSpec{
		Shaft:   linkage.Point{X: mm(-50, 50, "x"), Y: mm(-50, 50, "y"), Z: mm(-50, 50, "z")},
		Axis:    linkage.Direction{X: u.X, Y: u.Y, Z: u.Z},
		Neutral: linkage.Direction{X: n.X, Y: n.Y, Z: n.Z},
		Radius:  mm(5, 30, "radius"),
		Link:    mm(20, 90, "link"),
	}
}

func newArm(t *rapid.T, spec linkage.ArmSpec) linkage.Arm {
	a, err := linkage.NewArm(spec)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The ball stays on its circle about the shaft, and its slope is its motion.
func TestBall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := newArm(t, drawSpec(t))
		q := units.Angle(rapid.Float64Range(-7, 7).Draw(t, "angle"))
		at, slope := a.Ball(q)
		spoke := r3.Sub(at.Vec(), a.Shaft().Vec())
		if off := r3.Norm(spoke) - float64(a.Radius()); math.Abs(off) > 1e-15 {
			t.Fatalf("off the circle by %g", off)
		}
		u := r3.Vec(a.Axis())
		if off := r3.Dot(spoke, u); math.Abs(off) > 1e-15 {
			t.Fatalf("off the plane by %g", off)
		}
		// A right-handed turn about the axis.
		if off := r3.Norm(r3.Sub(slope.Vec(), r3.Cross(u, spoke))); off > 1e-15 {
			t.Fatalf("slope off by %g", off)
		}
	})
}

// Angle after ball is the identity, on either branch, and both branches close.
func TestAngleTo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawSpec(t)
		a := newArm(t, spec)
		q := units.Angle(rapid.Float64Range(-3, 3).Draw(t, "angle"))
		// A ball that the link reaches: anywhere on a sphere about the arm's.
		ball, slope := a.Ball(q)
		part := rapid.Float64Range(-1, 1)
		away := r3.Vec{X: part.Draw(t, "wx"), Y: part.Draw(t, "wy"), Z: part.Draw(t, "wz")}
		if r3.Norm(away) < 0.01 {
			t.Skip("no direction")
		}
		w := r3.Unit(away)
		target := linkage.PointOf(r3.Add(ball.Vec(), r3.Scale(float64(spec.Link), w)))
		lever := -r3.Dot(w, slope.Vec()) / float64(spec.Radius)
		if math.Abs(lever) < 1e-3 {
			t.Skip("too near a dead centre for the angle to be certain")
		}
		branch := linkage.Ahead
		if lever < 0 {
			branch = linkage.Behind
		}
		got, err := a.AngleTo(target, branch)
		if err != nil {
			t.Fatal(err)
		}
		if off := float64(linkage.Wrap(got - q)); math.Abs(off*lever) > 1e-12 {
			t.Fatalf("%v came back as %v", q, got)
		}
		other, err := a.AngleTo(target, -branch)
		if err != nil {
			t.Fatal(err)
		}
		at, _ := a.Ball(other)
		if off := r3.Norm(r3.Sub(at.Vec(), target.Vec())) - float64(spec.Link); math.Abs(off) > 1e-12 {
			t.Fatalf("the other branch is off by %g m", off)
		}
	})
}

// A link that does not reach says by how much, at the angle where it comes
// nearest.
func TestReachError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawSpec(t)
		a := newArm(t, spec)
		part := rapid.Float64Range(-0.3, 0.3)
		target := linkage.Point{
			X: units.Length(part.Draw(t, "x")),
			Y: units.Length(part.Draw(t, "y")),
			Z: units.Length(part.Draw(t, "z")),
		}
		_, err := a.AngleTo(target, linkage.Ahead)
		if err == nil {
			t.Skip("reached")
		}
		var reach *linkage.ReachError
		if !errors.As(err, &reach) {
			t.Fatal(err)
		}
		// Look round the circle for the nearest fit.
		best := math.Inf(1)
		for i := range 3600 {
			at, _ := a.Ball(units.Angle(i) * units.Degree / 10)
			if off := r3.Norm(r3.Sub(at.Vec(), target.Vec())) - float64(spec.Link); math.Abs(off) < math.Abs(best) {
				best = off
			}
		}
		if off := float64(reach.Gap) - best; math.Abs(off) > 1e-6 {
			t.Fatalf("gap %v, round the circle %v m", reach.Gap, best)
		}
	})
}

func TestNewArmRefuses(t *testing.T) {
	good := linkage.ArmSpec{Axis: linkage.Direction{Z: 2}, Neutral: linkage.Direction{X: 3}, Radius: 1, Link: 1}
	if _, err := linkage.NewArm(good); err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	for field, spoil := range map[string]func(*linkage.ArmSpec){
		"Shaft.Y": func(s *linkage.ArmSpec) { s.Shaft.Y = units.Length(nan) },
		"Radius":  func(s *linkage.ArmSpec) { s.Radius = 0 },
		"Link":    func(s *linkage.ArmSpec) { s.Link = units.Length(math.Inf(1)) },
		"Axis.X":  func(s *linkage.ArmSpec) { s.Axis = linkage.Direction{X: nan, Y: 1} },
		"Neutral": func(s *linkage.ArmSpec) { s.Neutral.Z = 0.01 },
	} {
		s := good
		spoil(&s)
		_, err := linkage.NewArm(s)
		var spec *units.FieldError
		if !errors.As(err, &spec) || spec.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	// Directions of any length, near the ends of the float64 range too.
	s := good
	s.Axis, s.Neutral = linkage.Direction{Z: 1e300}, linkage.Direction{X: 1e-300}
	if _, err := linkage.NewArm(s); err != nil {
		t.Error(err)
	}
}

func TestNoAllocation(t *testing.T) {
	a, err := linkage.NewArm(linkage.ArmSpec{Axis: linkage.Direction{Z: 1}, Neutral: linkage.Direction{X: 1}, Radius: 1, Link: 3})
	if err != nil {
		t.Fatal(err)
	}
	target := linkage.Point{X: 3.2, Y: 0.3}
	if n := testing.AllocsPerRun(100, func() {
		if _, err := a.AngleTo(target, linkage.Ahead); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("AngleTo allocates %v times", n)
	}
}

func BenchmarkAngleTo(b *testing.B) {
	a, err := linkage.NewArm(linkage.ArmSpec{Axis: linkage.Direction{Z: 1}, Neutral: linkage.Direction{X: 1}, Radius: 1, Link: 3})
	if err != nil {
		b.Fatal(err)
	}
	target := linkage.Point{X: 3.2, Y: 0.3}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := a.AngleTo(target, linkage.Ahead); err != nil {
			b.Fatal(err)
		}
	}
}

// A gap that rounds to nothing, or is no number, is not printed as an amount.
func TestReachErrorWithoutAmount(t *testing.T) {
	for gap, says := range map[float64]string{0: "just misses", 1e-9: "just misses", -1e-9: "just misses", math.NaN(): "no finite place", 2e-3: "too short by 2 mm", -2e-3: "too long by 2 mm"} {
		if err := (&linkage.ReachError{Gap: units.Length(gap)}).Error(); !strings.Contains(err, says) || strings.Contains(err, "NaN") {
			t.Errorf("%v: %s", gap, err)
		}
	}
}
