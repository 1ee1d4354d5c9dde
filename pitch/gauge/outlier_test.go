package gauge

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// manyPoints are readings enough for each to be checked by the others.
func manyPoints() []Point {
	var points []Point
	for blade := range 2 {
		for _, c := range []float64{0.15, 0.3, 0.5, 0.6, 0.75} {
			points = append(points, Point{Blade: blade, Mode: "hover", Stick: pitch.Stick{Collective: c}})
		}
	}
	return append(points, pitchPoints()[6:]...)
}

// drawn returns a build drawn from the tolerances, but for parts near enough to the file
// for all readings to be on the scale.
func drawn(b *Session, chance *rand.Rand) []float64 {
	x := make([]float64, len(b.model.params))
	for j, sd := range b.model.sd {
		x[j] = 0.7 * sd * chance.NormFloat64()
	}
	return x
}

// Readings misread by 2° are found and named, one or two, also where two are misread
// alike so that each covers the other; the fit is then that of the others.
func TestOutliers(t *testing.T) {
	b := sessionOf(t, "direct")
	chance := rand.New(rand.NewPCG(5, 6))
	for _, wrong := range [][]int{{3}, {0, 1}, {2, 7}, {5, 6}} {
		for range 10 {
			x := drawn(b, chance)
			readings := simulate(t, b, x, chance, append(manyPoints(), tiltPoints()...)...)
			for _, i := range wrong {
				readings[i].Value += 2 * units.Degree
				if readings[i].Value > b.gauges[0].High {
					readings[i].Value -= 4 * units.Degree
				}
			}
			r, err := b.Fit(readings)
			if err != nil {
				t.Errorf("%v misread: %v", wrong, err)
				continue
			}
			var found []int
			for _, o := range r.Outliers {
				found = append(found, o.Index)
				if by := math.Abs(o.By.Degrees()); math.Abs(by-2) > 4*o.Sigma.Degrees() || !r.Readings[o.Index].Outlier {
					t.Errorf("reading %d is off by %v ± %v, wanted 2°", o.Index, o.By, o.Sigma)
				}
			}
			if !slices.Equal(found, wrong) {
				t.Errorf("%v misread, %v found", wrong, found)
				continue
			}
			var rest []Reading
			for i, reading := range readings {
				if !slices.Contains(wrong, i) {
					rest = append(rest, reading)
				}
			}
			alone, err := b.Fit(rest)
			if err != nil {
				t.Fatal(err)
			}
			for j := range r.Parameters {
				if r.Parameters[j].Off != alone.Parameters[j].Off {
					t.Errorf("%v: %v with the outliers, %v without", r.Parameters[j].Parameter, r.Parameters[j].Off, alone.Parameters[j].Off)
				}
			}
		}
	}
}

// With few readings it is said that they do not tell which is wrong: of two that
// disagree either may be. A third tells.
func TestTooFewReadings(t *testing.T) {
	b := sessionOf(t, "direct")
	readings := simulate(t, b, make([]float64, len(b.model.params)), nil, manyPoints()[:3]...)
	readings[1].Value += 2.5 * units.Degree
	_, err := b.Fit(readings[:2])
	var misfit *MisfitError
	if !errors.As(err, &misfit) || !misfit.TooFew || !slices.Equal(misfit.Suspects, []int{0, 1}) {
		t.Errorf("two readings of which one is 2.5° off: %v", err)
	}
	// Farther off it is the likelier of the two, and yet one of two is no proof.
	readings[1].Value += 2 * units.Degree
	if _, err = b.Fit(readings[:2]); !errors.As(err, &misfit) || !misfit.TooFew || !slices.Equal(misfit.Suspects, []int{1}) {
		t.Errorf("two readings of which one is 4.5° off: %v", err)
	}
	if r, err := b.Fit(readings); err != nil || len(r.Outliers) != 1 || r.Outliers[0].Index != 1 {
		t.Errorf("three readings of which one is 4.5° off: %+v, %v", r, err)
	}
	// One reading that no likely build shows: it may be the build.
	readings = readings[2:]
	readings[0].Value = -9 * units.Degree
	misfit = nil
	if _, err = b.Fit(readings); !errors.As(err, &misfit) || misfit.P > falseAlarm || misfit.Readings != 1 {
		t.Errorf("one reading 9° off: %v", err)
	}
}

// Readings that look sound together, and of which one is too far from the others, are refused
// for that one: the figure that is told is the one that refused them.
func TestOneAlone(t *testing.T) {
	b := sessionOf(t, "direct")
	readings := simulate(t, b, make([]float64, len(b.model.params)), nil, manyPoints()[:2]...)
	var misfit *MisfitError
	for misfit == nil {
		readings[1].Value += 0.05 * units.Degree
		if _, err := b.Fit(readings); err != nil && !errors.As(err, &misfit) {
			t.Fatal(err)
		}
	}
	if !misfit.OneAlone() || misfit.P < falseAlarm || misfit.Student < threshold(2) || misfit.Student > threshold(2)*1.05 {
		t.Errorf("%+v", misfit)
	}
	// Twice the tail beyond the threshold, for each of two readings, is the false alarm.
	var times int
	if _, err := fmt.Sscanf(misfit.Chance(), "about once in %d times", &times); err != nil || times < 1000 || times > 2000 || !strings.Contains(misfit.Error(), misfit.Chance()) || !strings.Contains(misfit.Error(), fmt.Sprintf("reading %d of 2", misfit.Worst+1)) {
		t.Errorf("%q in %q", misfit.Chance(), misfit)
	}
	// Farther off, both together are unlikely enough.
	readings[1].Value += 2 * units.Degree
	if _, err := b.Fit(readings); !errors.As(err, &misfit) || misfit.OneAlone() || misfit.P >= falseAlarm {
		t.Errorf("far off: %+v", misfit)
	}
}

// Readings of another machine belong to no build of this one: no numbers are given.
func TestForeignReadings(t *testing.T) {
	b := sessionOf(t, "direct")
	chance := rand.New(rand.NewPCG(7, 8))
	readings := simulate(t, b, drawn(b, chance), chance, manyPoints()...)
	for i := range readings {
		readings[i].Value = -readings[i].Value / 2 // less throw, and the other way round
	}
	_, err := b.Fit(readings)
	var misfit *MisfitError
	if !errors.As(err, &misfit) || misfit.TooFew || len(misfit.Suspects) > 0 || misfit.ChiSquare < 100 {
		t.Errorf("readings of another machine: %v", err)
	}
	for i := range readings {
		readings[i].Value = units.Angle(chance.Float64()*16-8) * units.Degree
	}
	if _, err := b.Fit(readings); !errors.As(err, &misfit) {
		t.Errorf("readings at random: %v", err)
	}
}

// What leaving readings out does, worked out without leaving them out, is what it does.
func TestDeletion(t *testing.T) {
	b := sessionOf(t, "direct")
	chance := rand.New(rand.NewPCG(9, 10))
	rows, err := b.rows(simulate(t, b, drawn(b, chance), chance, manyPoints()...))
	if err != nil {
		t.Fatal(err)
	}
	all, err := b.solve(rows, b.model.sd)
	if err != nil {
		t.Fatal(err)
	}
	d := all.deletion()
	const linear = 0.02 // the build is not quite linear in its parts
	for _, set := range [][]int{{0}, {4}, {1, 2}, {0, 6, 11}} {
		var rest []row
		for i := range rows {
			if !slices.Contains(set, i) {
				rest = append(rest, rows[i])
			}
		}
		without, err := b.solve(rest, b.model.sd)
		if err != nil {
			t.Fatal(err)
		}
		want := all.chiSquare - without.chiSquare
		if got := d.gain(set); math.Abs(got-want) > linear*math.Max(want, 1) {
			t.Errorf("without %v chi-square is less by %v, found %v", set, want, got)
		}
		o, _, err := without.outlier(set[0], &rows[set[0]])
		if err != nil {
			t.Fatal(err)
		}
		if got := d.student(set[0], set[1:]); math.Abs(got-math.Abs(o.Student)) > linear*math.Max(1, got) {
			t.Errorf("reading %d without %v is off by %v, found %v", set[0], set[1:], o.Student, got)
		}
	}
}

// A part far beyond its tolerance is not passed off as a build within it: the error
// says which part alone would explain the readings.
func TestFault(t *testing.T) {
	b := sessionOf(t, "direct")
	x := make([]float64, len(b.model.params))
	tooth := float64(360 * units.Degree / 25)
	x[placeOf(t, b, Parameter{ServoCentre, 1})] = -tooth
	points := append(tiltPoints(), manyPoints()...)
	for i := range points {
		points[i].Stick.Right, points[i].Stick.Forward = 0, 0
		points[i].Stick.Collective = 0.5 + (points[i].Stick.Collective-0.5)/4 // on the scale
	}
	_, err := b.Fit(simulate(t, b, x, rand.New(rand.NewPCG(1, 2)), points...))
	var misfit *MisfitError
	if !errors.As(err, &misfit) || len(misfit.Unless) == 0 {
		t.Fatalf("an arm one tooth off: %v", err)
	}
	t.Log(err)
	f := misfit.Unless[0]
	if f.Parameter.Index != 1 {
		t.Errorf("the best of %+v is not of the second servo", misfit.Unless)
	}
	for _, f := range misfit.Unless {
		if z := (f.Off + tooth) / f.Sigma; f.Parameter == (Parameter{ServoCentre, 1}) && math.Abs(z) < 4 {
			return
		}
	}
	t.Errorf("faults %+v", misfit.Unless)
}

// Readings that a part far off would explain as well as their being misread are not called
// outliers.
func TestReadingsOrFault(t *testing.T) {
	b := sessionOf(t, "direct")
	x := make([]float64, len(b.model.params))
	x[placeOf(t, b, Parameter{LowEnd, 2})] = 0.35
	var points []Point
	for blade := range 2 {
		for _, c := range []float64{0.1, 0.2, 0.3, 0.4, 0.85} {
			points = append(points, Point{Blade: blade, Mode: "aerobatic", Stick: pitch.Stick{Collective: c}})
		}
	}
	for _, s := range tiltPoints()[:2] {
		s.Mode = "aerobatic"
		points = append(points, s)
	}
	r, err := b.Fit(simulate(t, b, x, rand.New(rand.NewPCG(1, 2)), points...))
	var misfit *MisfitError
	if !errors.As(err, &misfit) || !misfit.TooFew || !slices.Equal(misfit.Suspects, []int{4, 9}) || len(misfit.Unless) == 0 {
		t.Errorf("a low end point 35 %% off, seen by two readings: %+v, %v", r, err)
	}
}
