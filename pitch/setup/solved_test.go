package setup_test

import (
	"bytes"
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// A smooth curve that runs beyond its points gets a rate that brings it in.
func TestSolvedCurveStaysInRange(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	data = bytes.Replace(data, []byte(`"kind": "monotone",
        "collective": [
          {"stick": "0 %", "pitch": "-11°"},
          {"stick": "50 %", "pitch": "0°"},`), []byte(`"kind": "natural",
        "collective": [
          {"stick": "0 %", "pitch": "0°"},
          {"stick": "50 %", "pitch": "11°"},`), 1)
	r := rigtest.Build(t, data)
	if r.Modes()[1].Unmet() != nil || r.Modes()[1].Setting().Pitch.Kind().String() != "natural" {
		t.Fatal(r.Modes()[1].Unmet())
	}
	for i := range 1001 {
		if y := r.Modes()[1].Solved().Exact.Pitch.At(float64(i) / 1000); y > 1 {
			t.Fatalf("the curve runs to %v", y)
		}
	}
}

// leastSteps is the least number of percent steps in a collective rate under which no
// point of a setting's curve, as its demands are, lies beyond ±100 %.
func leastSteps(s pitch.Setting, r *setup.Rig) float64 {
	const rounding = 1e-7 // of a step
	var largest float64
	for _, p := range s.Pitch.Points() {
		largest = math.Max(largest, math.Abs(p.Y)*float64(s.Rates.Collective))
	}
	return math.Max(math.Ceil(largest/float64(r.Radio().PercentStep)-rounding), 1)
}

// stepsOf is the number of percent steps in a setting's collective rate.
func stepsOf(s pitch.Setting, r *setup.Rig) float64 {
	return math.Round(float64(s.Rates.Collective / r.Radio().PercentStep))
}

// The solved collective rate is in whole percent steps, and up to ten steps and a tenth
// above the least with which no curve point lies beyond ±100 %. What is entered is in
// whole steps too.
func TestSolvedRateIsNearTheLeast(t *testing.T) {
	for _, step := range []units.Ratio{0.0001, 0.001, 0.005, 0.01, 0.05} {
		r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			m.Modes = m.Modes[1:]
			m.Radio.PercentStep = step
		})
		for _, mode := range r.Modes() {
			rate := mode.Solved().Exact.Rates.Collective
			if n := float64(rate / step); math.Abs(n-math.Round(n)) > 1e-9 || rate != mode.Solved().Enter.Rates.Collective {
				t.Errorf("step %v: rate %v is not in whole steps", step, rate)
			}
			least := leastSteps(mode.Solved().Exact, r)
			if n := stepsOf(mode.Solved().Exact, r); n < least || n > least+math.Min(10, least/10) {
				t.Errorf("step %v, mode %s: rate %v, least %v", step, mode.Name(), rate, units.Ratio(least)*step)
			}
			for _, p := range mode.Solved().Enter.Points {
				if n := float64(p[1] / step); math.Abs(n-math.Round(n)) > 1e-8 || p[1] > 1 || p[1] < -1 {
					t.Errorf("step %v: point %v", step, p)
				}
			}
		}
	}
}

// What is to be entered reads nearer to its targets, pulse steps included, than the exact
// values rounded one by one under the least rate; nothing one step aside, of rates or
// points, reads nearer at the worst of them. The figures are what it reaches on the
// machines of the examples, in degrees of pitch.
func TestEnteredReadsNearest(t *testing.T) {
	type figures struct{ pitch, rounded, cyclic float64 }
	reached := map[string][2]figures{
		"direct.json":     {{0.0191, 0.0338, 0.0125}, {0.0226, 0.0226, 0.0172}},
		"bellcranks.json": {{0.0101, 0.0271, 0.0179}, {0.0137, 0.0320, 0.0062}},
		"fourservos.json": {{0.0279, 0.0444, 0.0405}, {0.0337, 0.0337, 0.0344}},
		"flybar.json":     {{0.0405, 0.0986, 0.0404}, {0.0652, 0.0659, 0.0245}},
		"spatial.json":    {{0.0194, 0.0194, 0.0256}, {0.0281, 0.0300, 0.0305}},
	}
	for name, data := range rigtest.Files(t) {
		r := rigtest.Build(t, data)
		for i, want := range reached[name] {
			m := r.Modes()[1+i]
			solved, targets := m.Solved(), m.Mode().Targets
			step := r.Radio().PercentStep
			// off is the error at a target for a value of the curve under a rate.
			off := func(k int, rate, value units.Ratio) float64 {
				at := swash.Demand{Collective: float64(rate * value)}
				p, _, err := r.Head().Blade(r.Head().Control.NewState(), r.Gauge().Bearing, at)
				if err != nil {
					t.Fatal(err)
				}
				return math.Abs((p - targets.Collective[k].Pitch).Degrees())
			}
			const decimals = 5e-5 // half the last decimal of the figures
			rate, least := solved.Enter.Rates.Collective, units.Ratio(leastSteps(solved.Exact, r))*step
			var worst, rounded float64
			for k, p := range solved.Enter.Points {
				here := off(k, rate, p[1])
				worst = math.Max(worst, here)
				plain := solved.Exact.Pitch.Points()[k].Y * float64(rate/least)
				rounded = math.Max(rounded, off(k, least, units.Ratio(math.RoundToEven(plain/float64(step)))*step))
				for _, beside := range []units.Ratio{p[1] - step, p[1] + step} {
					if beside >= -1 && beside <= 1 && off(k, rate, beside) < here-1e-6 {
						t.Errorf("%s, %s: point %v at %v reads %.4f° off, one step aside less", name, m.Name(), p[1], p[0], here)
					}
				}
			}
			var cyclic float64
			for _, c := range solved.Cyclic {
				cyclic = math.Max(cyclic, math.Abs((c.Entered - c.Wanted).Degrees()))
			}
			got := figures{worst, rounded, cyclic}
			if diff := cmp.Diff(want, got, cmp.AllowUnexported(figures{}), cmpopts.EquateApprox(0, decimals)); diff != "" {
				t.Errorf("%s, %s (-want +got):\n%s", name, m.Name(), diff)
			}
			for k, stick := range []pitch.Stick{{Collective: 0.5, Right: 1}, {Collective: 0.5, Forward: 1}} {
				for _, by := range []units.Ratio{-step, step} {
					setting := solved.Entered
					*[]*units.Ratio{&setting.Rates.Right, &setting.Rates.Forward}[k] += by
					beside := m.Enter(setting)
					full, centre := rigtest.Cyclic(t, r, beside, stick), rigtest.Cyclic(t, r, beside, pitch.Stick{Collective: 0.5})
					full.Cosine -= centre.Cosine
					full.Sine -= centre.Sine
					if there, here := full.Amplitude()-targets.Cyclic, solved.Cyclic[k].Entered-targets.Cyclic; math.Abs(there.Degrees()) < math.Abs(here.Degrees())-1e-6 {
						t.Errorf("%s, %s: %s reads %v off, one step aside %v", name, m.Name(), solved.Cyclic[k].Stick, here, there)
					}
				}
			}
		}
	}
}
