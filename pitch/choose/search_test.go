package choose_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

const mm = units.Millimetre

// rigOf returns an invented machine of the examples, changed by edit.
func rigOf(tb testing.TB, name string, edit func(*machine.Machine)) *setup.Rig {
	tb.Helper()
	if edit == nil {
		edit = func(*machine.Machine) {}
	}
	return rigtest.Rig(tb, rigtest.Read(tb, rigtest.Demos+name+".json"), edit)
}

func search(tb testing.TB, rig *setup.Rig, owned choose.Owned, options choose.Options) *choose.Choice {
	tb.Helper()
	c, err := choose.Search(tb.Context(), rig, owned, options)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

// anyPulse allows any pulse beyond the limit, so that more candidates suit.
const anyPulse = 1000 * units.PulseMicrosecond

// wide sets a machine's limits so wide that all sorts of candidates suit.
func wide(m *machine.Machine) {
	rate, limits := 2*units.One, machine.DefaultLimits()
	limits.DeadCentre, limits.PitchError, limits.BallLinkAngle = 1*units.Degree, 1*units.Degree, 60*units.Degree
	m.Radio.RateLimit, m.Limits = &rate, &limits
}

// alike compares outcomes: machines by what was measured on them, errors by their text.
var alike = cmp.Options{
	cmpopts.IgnoreFields(choose.Result{}, "Rig"),
	cmp.Comparer(func(a, b error) bool { return a.Error() == b.Error() }),
}

// The front of a search is that of the definition, over all results that suit.
func TestSearchFront(t *testing.T) {
	for _, name := range []string{"direct", "spatial"} {
		c := search(t, rigOf(t, name, wide), choose.Owned{
			Arms:  []units.Length{9 * mm, 12 * mm, 13 * mm},
			Horns: []units.Length{18 * mm, 20 * mm},
			Teeth: []int{0, 1},
		}, choose.Options{BeyondLimit: anyPulse, Workers: 2})
		point := func(i int) []float64 {
			var p []float64
			for _, o := range c.Objectives {
				p = append(p, o.Of(&c.Results[i].Measures))
			}
			return p
		}
		var on []int
		for _, m := range c.Front {
			on = append(on, m.Index)
			for _, b := range m.Behind { // by the true figures, and not by those rounded to be compared
				figure := func(m choose.Member) float64 {
					r := &c.Results[m.Index]
					return []float64{float64(r.Tilt), float64(r.Resolution()), float64(r.Load), float64(r.Stroke)}[b.Objective]
				}
				if want := figure(m) - figure(c.Front[b.Neighbour]); b.By != want || !(want > 0) {
					t.Errorf("%s: %v behind by %v, want %v", name, b.Objective, b.By, want)
				}
			}
		}
		fit := 0
		for i, r := range c.Results {
			dominated := false
			for k, other := range c.Results {
				noWorse, better := len(other.Unfit) == 0, false
				for n, v := range point(k) {
					noWorse, better = noWorse && v <= point(i)[n], better || v < point(i)[n]
				}
				dominated = dominated || noWorse && better
			}
			if got, want := slices.Contains(on, i), len(r.Unfit) == 0 && !dominated; got != want {
				t.Errorf("%s, %+v: on the front %v, want %v", name, r.Candidate, got, want)
			}
			if len(r.Unfit) == 0 {
				fit++
			}
		}
		if len(on) < 2 || fit <= len(on) {
			t.Errorf("%s: %d of %d results without a reason against them on the front: no trade to look at", name, len(on), fit)
		}
	}
}

// Neither the order of the lists, nor what is listed twice, nor the workers matter.
func TestSearchOrder(t *testing.T) {
	rig := rigOf(t, "direct", nil)
	want := search(t, rig, choose.Owned{Arms: []units.Length{8 * mm, 12 * mm, 14 * mm}, Horns: []units.Length{16 * mm, 20 * mm}}, choose.Options{})
	for workers := range 5 {
		got := search(t, rig, choose.Owned{Arms: []units.Length{12 * mm, 14 * mm, 8 * mm, 14 * mm}, Horns: []units.Length{20 * mm, 16 * mm}}, choose.Options{Workers: workers})
		if diff := cmp.Diff(want, got, alike); diff != "" {
			t.Fatalf("%d workers (-want +got):\n%s", workers, diff)
		}
	}
	if len(want.Results) != 6 || len(want.Front) == 0 {
		t.Errorf("%d results, %d on the front", len(want.Results), len(want.Front))
	}
}

// More candidates, all of them dominated by one on the front, change nothing there.
func TestSearchDominated(t *testing.T) {
	rig := rigOf(t, "spatial", wide)
	front := func(arms ...units.Length) (all []choose.Candidate) {
		c := search(t, rig, choose.Owned{Arms: arms, Horns: []units.Length{18 * mm, 20 * mm}, Teeth: []int{-1, 1}}, choose.Options{BeyondLimit: anyPulse})
		for _, m := range c.Front {
			all = append(all, c.Results[m.Index].Candidate)
		}
		return all
	}
	few, many := front(9*mm), front(13*mm, 9*mm, 14*mm)
	if diff := cmp.Diff(few, many); diff != "" || len(few) == 0 {
		t.Errorf("%d on the front; with more candidates (-few +many):\n%s", len(few), diff)
	}
}

// The machine as it is, named by its parts, does what its own sheet says.
func TestPresentIsTheSheet(t *testing.T) {
	for _, name := range []string{"direct", "fourservos", "flybar", "spatial", "bellcranks"} {
		rig := rigOf(t, name, func(m *machine.Machine) {
			for name, kind := range m.Servos {
				kind.Min += 80 * units.PulseMicrosecond // so that the short side reaches its limit first
				m.Servos[name] = kind
			}
			if rates := m.Modes[0].Rates; rates != nil {
				rates.Right = -1.02 * rates.Right // so that the largest is neither the last nor above 0
			}
		})
		candidate := choose.Candidate{Horn: rig.Machine().Head.HornRadius}
		for _, leg := range rig.Parts().Plate.Legs {
			candidate.Arms = append(candidate.Arms, leg.Arm.Radius)
		}
		r := choose.Try(rig, candidate, 0)
		said, err := sheet.Of(rig)
		if err != nil {
			t.Fatal(err)
		}
		if r.Rig != rig {
			t.Errorf("%s: the present parts make another machine", name)
		}
		want := choose.Measures{DeadCentre: r.DeadCentre, BallLinkAngle: r.BallLinkAngle, Use: r.Use, Step: r.Step, Deadband: r.Deadband, Error: r.Error}
		var step, deadband units.Angle // at high stick
		for i, mode := range said.Modes {
			for _, rate := range []units.Ratio{mode.Rates.Collective, mode.Rates.Right, mode.Rates.Forward} {
				want.Rate = units.Round(max(want.Rate, rate, -rate), 6)
			}
			for k := range 41 {
				row, err := rig.Modes()[i].Row(float64(k) / 40)
				if err != nil {
					t.Fatal(err)
				}
				want.Tilt = max(want.Tilt, units.Round(row.Tilt, 6))
			}
			for _, row := range mode.Rows {
				if row.Tilt > want.Tilt {
					t.Errorf("%s: the sheet's row at %v tilts %v, more than %v", name, row.Stick, row.Tilt, want.Tilt)
				}
			}
			for _, corner := range mode.Corners {
				for _, by := range corner.BeyondLimit {
					want.BeyondLimit = max(want.BeyondLimit, by, -by)
				}
			}
			if mode.Loads == nil {
				continue
			}
			for _, s := range mode.Loads.Servos {
				if s.Stroke != nil {
					want.Loaded, want.Load, want.Stroke = true, max(want.Load, *s.Load), max(want.Stroke, *s.Stroke)
					deadband = max(deadband, *mode.Loads.Deadband)
				}
			}
			step = max(step, mode.Loads.PulseStep)
		}
		if diff := cmp.Diff(want, r.Measures); diff != "" {
			t.Errorf("%s (-sheet +got):\n%s", name, diff)
		}
		if r.Step < step || r.Deadband < deadband {
			t.Errorf("%s: step %v and deadband %v at the coarsest stick, %v and %v on the sheet at high stick", name, r.Step, r.Deadband, step, deadband)
		}
		if few := search(t, rig, choose.Owned{Horns: []units.Length{rig.Machine().Head.HornRadius}}, choose.Options{}); !cmp.Equal(few.Present.Measures, r.Measures) {
			t.Errorf("%s: Present is %+v, want %+v", name, few.Present.Measures, r.Measures)
		}
	}
}

// What a result says of a new machine is what that machine's own sheet says.
func TestResultIsItsSheet(t *testing.T) {
	rig := rigOf(t, "direct", nil)
	r := choose.Try(rig, choose.Candidate{Arms: []units.Length{14 * mm, 14 * mm, 14 * mm}, Horn: 18 * mm}, 0)
	said, err := sheet.Of(r.Rig)
	if err != nil {
		t.Fatal(err)
	}
	var rate units.Ratio
	var load units.Ratio
	for _, mode := range said.Modes {
		rate = max(rate, mode.Rates.Collective, mode.Rates.Right, mode.Rates.Forward)
		if mode.Loads != nil {
			for _, s := range mode.Loads.Servos {
				load = max(load, *s.Load)
			}
		}
	}
	if rate != r.Rate || load != r.Load || len(r.Unfit) > 0 {
		t.Errorf("rate %v and load %v, on the sheet %v and %v; unfit: %v", r.Rate, r.Load, rate, load, r.Unfit)
	}
	for _, f := range said.Findings {
		if f.Severity == sheet.Stop && f.Kind != sheet.LiveAtLowStick {
			t.Errorf("the new machine's sheet says %+v", f)
		}
	}
}

// A longer arm takes less rate, about in proportion, sets pitch coarser, holds less and
// is faster.
func TestLongerArms(t *testing.T) {
	const aboutInProportion = 0.06 // links tilt, radio steps round, and sub-trim differs
	c := search(t, rigOf(t, "direct", nil), choose.Owned{}, choose.Options{})
	first := c.Results[0]
	if len(c.Results) != 4 || first.Arms[0] != 8*mm {
		t.Fatalf("%d results from arms of %v; the file lists 8 to 14 mm", len(c.Results), first.Arms)
	}
	for i, r := range c.Results[1:] {
		last := c.Results[i]
		if product := float64(r.Rate*units.Ratio(r.Arms[0])) / float64(first.Rate*units.Ratio(first.Arms[0])); math.Abs(product-1) > aboutInProportion {
			t.Errorf("%v: rate %v, %.3f of what is in proportion", r.Arms[0], r.Rate, product)
		}
		if r.Step <= last.Step || r.Load <= last.Load || r.Stroke >= last.Stroke || r.Use >= last.Use {
			t.Errorf("%v after %v: %+v after %+v", r.Arms[0], last.Arms[0], r.Measures, last.Measures)
		}
	}
}

// Without ratings there is neither load nor stroke to choose by, and steps decide.
func TestUnrated(t *testing.T) {
	rig := rigOf(t, "direct", func(m *machine.Machine) {
		for name, kind := range m.Servos {
			kind.Rating = nil
			m.Servos[name] = kind
		}
	})
	c := search(t, rig, choose.Owned{}, choose.Options{BeyondLimit: anyPulse})
	if diff := cmp.Diff([]choose.Objective{choose.Tilt, choose.Resolution}, c.Objectives); diff != "" {
		t.Errorf("objectives (-want +got):\n%s", diff)
	}
	if len(c.Front) == 0 {
		t.Fatal("nothing on the front")
	}
	for _, m := range c.Front {
		if r := c.Results[m.Index]; r.Deadband != 0 || r.Loaded {
			t.Errorf("front %+v", r)
		}
	}
}

// Unlike arms are all tried, and tilt the plate.
func TestUnlike(t *testing.T) {
	c := search(t, rigOf(t, "direct", nil), choose.Owned{Arms: []units.Length{12 * mm, 14 * mm}, Unlike: true}, choose.Options{Workers: 2})
	seen := map[string]bool{}
	for _, r := range c.Results {
		seen[fmt.Sprint(r.Arms)] = true
		alike := r.Arms[0] == r.Arms[1] && r.Arms[1] == r.Arms[2]
		if level := r.Tilt < 1e-6*units.Degree; level != alike {
			t.Errorf("arms %v tilt the plate by %v", r.Arms, r.Tilt)
		}
	}
	if len(seen) != 8 {
		t.Errorf("%d sets of arms, want 8", len(seen))
	}
}

// Objectives are in SI base units, rounded to what matters on a bench.
func TestObjectiveOf(t *testing.T) {
	m := choose.Measures{Tilt: 0.1234 * units.Degree, Step: 0.0512345 * units.Degree, Deadband: 0.0523456 * units.Degree,
		Loaded: true, Load: 0.12345, Stroke: 0.05678}
	got := []float64{choose.Tilt.Of(&m), choose.Resolution.Of(&m), choose.Load.Of(&m), choose.Stroke.Of(&m)}
	const rounding = 1e-15
	want := []float64{0.12 * math.Pi / 180, 0.1 * math.Pi / 180, 0.12, 0.055} // the deadband from end to end is 0.1047°
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(0, rounding)); diff != "" {
		t.Errorf("objectives (-want +got):\n%s", diff)
	}
	if none := choose.Load.Of(&choose.Measures{}); !math.IsNaN(none) {
		t.Errorf("a load that is not known is %v", none)
	}
}

func BenchmarkSearch(b *testing.B) {
	rig := rigOf(b, "direct", nil)
	var horns []units.Length
	for k := range 25 {
		horns = append(horns, units.Length(16+0.25*float64(k))*mm)
	}
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("100 candidates, %d workers", workers), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				search(b, rig, choose.Owned{Horns: horns}, choose.Options{Workers: workers})
			}
		})
	}
}

// A search stops with its context.
func TestSearchStops(t *testing.T) {
	for _, workers := range []int{1, 3} {
		ctx, cancel := context.WithCancel(t.Context())
		cancel()
		c, err := choose.Search(ctx, rigOf(t, "direct", nil), choose.Owned{}, choose.Options{Workers: workers})
		if c != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("%d workers: %v", workers, err)
		}
	}
}
