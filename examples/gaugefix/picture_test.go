package main

import (
	"math"
	"strings"
	"testing"

	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/units"
)

func TestPicture(t *testing.T) {
	svg := command.Picture(t)
	showtest.InOrder(t, svg, "<svg", "Mode aerobatic", "blade pitch, degrees", "blade 1", "blade 2", "wanted", "Off from what is wanted", "blade 1 now", "blade 2 after")
	const bands = 4 // of two blades in two panels
	if n := strings.Count(svg, "fill-opacity:"); n != bands {
		t.Errorf("%d bands, want %d", n, bands)
	}
	const circles = 4 // the readings of blade 1, and the key
	if n := strings.Count(svg, `"fill:#0072B2"`); n != circles {
		t.Errorf("%d circles, want %d", n, circles)
	}
}

// What is drawn is what was read, fitted and expected.
func TestSeries(t *testing.T) {
	b, err := newSession(options{level: 0.1 * units.Degree})
	if err != nil {
		t.Fatal(err)
	}
	f, err := b.find()
	if err != nil {
		t.Fatal(err)
	}
	const half = 0.5 // of a degree: readings are to half a one, and the zero is off by less
	for blade := range 2 {
		line, err := f.line(f.result, "", gauge.Point{Blade: blade, Mode: "aerobatic"})
		if err != nil {
			t.Fatal(err)
		}
		marks, after := f.marks(blade, "aerobatic"), f.expected(blade, "aerobatic")
		if len(marks) != 3 || len(after.Marks) != 3 {
			t.Fatalf("%d readings and %d expectations, want 3", len(marks), len(after.Marks))
		}
		for i, m := range marks {
			p := line.Line[len(line.Line)/2*i]
			if p.X != m.X || math.Abs(p.Y-m.Y) > half {
				t.Errorf("blade %d: read %v, fitted %v", blade+1, m, p)
			}
			if math.Abs(after.Marks[i].Y) > half || after.Bars[i] <= 0 || after.Bars[i] > 1 {
				t.Errorf("blade %d: expected %v ± %v", blade+1, after.Marks[i], after.Bars[i])
			}
		}
		for _, p := range less(line, line).Line {
			if p.Y != 0 {
				t.Errorf("off from itself by %v", p.Y)
			}
		}
	}
	for i := range f.result.Parameters {
		if e := &f.result.Parameters[i]; e.Parameter.Kind == gauge.GaugeZero {
			e.Off = float64(units.Degree)
		}
	}
	const rounding = 1e-9
	if y := f.marks(0, "aerobatic")[0].Y; math.Abs(y+11) > rounding {
		t.Errorf("-10° on a gauge whose zero is off by 1° is %v°", y)
	}
}
