package main

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/units"
)

func TestPicture(t *testing.T) {
	svg := command.Picture(t)
	showtest.InOrder(t, svg, "<svg", "Take the main blades off", "Mode &#34;aerobatic&#34;: calculated", "blade pitch, degrees", "blade 1", "blade 2", "wanted", "Now: how far each blade is", "After the steps: how far each blade should be from the wanted pitch", "upright bars")
	edges := regexp.MustCompile(`<path d="[^"]*(?:L[^"L]*){20,}" style="fill:none;stroke:#(\w+);stroke-width:0.5"`).FindAllStringSubmatch(svg, -1)
	const both = 8 // upper and lower, of two blades in two charts
	if n := len(edges); n != both {
		t.Errorf("%d edges of hatched ranges, want %d", n, both)
	}
	if strings.Contains(svg, "fill-opacity:") {
		t.Error("colours that blend")
	}
	const circles = 8 // the readings of blade 1, what is expected at them, and two keys
	if n := strings.Count(svg, `"fill:#0072B2"`); n != circles {
		t.Errorf("%d circles, want %d", n, circles)
	}
}

func TestPictureOfEach(t *testing.T) {
	command.PictureOfEach(t, showtest.Machines, "-ask")
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
		for _, p := range minus(line, line).Line {
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
