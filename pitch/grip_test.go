package pitch_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/dsp/fourier"
	"pgregory.net/rapid"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

const neutral = 60 * units.Millimetre

func length(t *rapid.T, lo, hi float64, name string) units.Length {
	return units.Length(rapid.Float64Range(lo, hi).Draw(t, name)) * units.Millimetre
}

func angle(t *rapid.T, lo, hi float64, name string) units.Angle {
	return units.Angle(rapid.Float64Range(lo, hi).Draw(t, name)) * units.Degree
}

// drawSpec draws a grip of model size, its link cut for a blade near zero. Its horn
// follows every pose that drawPose draws.
func drawSpec(t *rapid.T) pitch.GripSpec {
	spec := pitch.GripSpec{
		RingRadius: length(t, 9, 18, "ring radius"),
		RingOffset: length(t, -3, 3, "ring offset"),
		RingDriver: angle(t, -180, 180, "driver"),
		HubHeight:  neutral + length(t, 28, 45, "hub over plate"),
		Horn:       length(t, 15, 24, "horn"),
		HornX:      length(t, 0, 8, "horn x"),
		Rest:       angle(t, -10, 10, "rest"),
		Rotation:   rapid.SampledFrom([]pitch.Rotation{pitch.Clockwise, pitch.CounterClockwise}).Draw(t, "turn"),
		Side:       rapid.SampledFrom([]pitch.Side{pitch.Leading, pitch.Trailing}).Draw(t, "side"),
		Mixer:      drawMixer(t),
	}
	// The ring's ball stands under the horn, more or less.
	under := angle(t, 65, 95, "phase")
	if (spec.Rotation == pitch.Clockwise) != (spec.Side == pitch.Leading) {
		under = -under
	}
	spec.Phase = under
	link, err := spec.LinkFor(angle(t, -3, 3, "pitch at neutral"), neutral)
	if err != nil {
		t.Fatal(err)
	}
	spec.Link = link
	return spec
}

// drawMixer draws a mixing arm, or none.
func drawMixer(t *rapid.T) pitch.MixingArm {
	if !rapid.Bool().Draw(t, "flybar") {
		return pitch.MixingArm{}
	}
	m := pitch.MixingArm{
		PlateSide: length(t, 5, 15, "plate side"),
		BarSide:   length(t, 10, 30, "bar side"),
		BarRadius: length(t, -25, 25, "bar radius"),
	}
	if rapid.Bool().Draw(t, "washout") {
		// Not longer out than in, so that the horn follows any pose drawn here.
		m.WashoutIn, m.WashoutOut = length(t, 15, 20, "washout in"), length(t, 10, 15, "washout out")
	}
	return m
}

func drawGrip(t *rapid.T) *pitch.Grip {
	g, err := pitch.NewGrip(drawSpec(t), neutral)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func drawPose(t *rapid.T) swash.Pose {
	return swash.Pose{
		Height: neutral + length(t, -3, 3, "height"),
		Tilt:   swash.TiltTo(angle(t, 0, 10, "tilt"), angle(t, 0, 360, "low side")),
	}
}

// With the plate level the blade's pitch is the same all round, and the link
// cut for a pitch gives it.
func TestLevelPlate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawSpec(t)
		want := angle(t, -5, 5, "pitch")
		link, err := spec.LinkFor(want, neutral)
		if err != nil {
			t.Fatal(err)
		}
		spec.Link = link
		g, err := pitch.NewGrip(spec, neutral)
		if err != nil {
			t.Fatal(err)
		}
		got, err := g.Pitch(angle(t, 0, 360, "bearing"), swash.Pose{Height: neutral})
		if err != nil {
			t.Fatal(err)
		}
		if off := (got - want).Degrees(); !(math.Abs(off) < 1e-10) {
			t.Fatalf("off by %g°", off)
		}
	})
}

// The pitch link's travel is the plate's and the bar's by their shares, and the
// teeter's slope is that of the pitch.
func TestMixingArm(t *testing.T) {
	m := pitch.MixingArm{PlateSide: 10 * units.Millimetre, BarSide: 15 * units.Millimetre}
	if plate, bar := m.Shares(); math.Abs(plate-0.6) > 1e-15 || math.Abs(bar-0.4) > 1e-15 {
		t.Errorf("shares %v, %v; a lever of 10 and 15 mm gives 0.6 and 0.4", plate, bar)
	}
	m.WashoutIn, m.WashoutOut = 20*units.Millimetre, 10*units.Millimetre
	if plate, bar := m.Shares(); math.Abs(plate-0.3) > 1e-15 || math.Abs(bar-0.4) > 1e-15 {
		t.Errorf("with a washout of half: %v, %v", plate, bar)
	}
	if plate, bar := (pitch.MixingArm{}).Shares(); plate != 1 || bar != 0 {
		t.Errorf("no mixing arm: %v, %v", plate, bar)
	}
	rapid.Check(t, func(t *rapid.T) {
		g, pose := drawGrip(t), drawPose(t)
		psi := angle(t, 0, 360, "bearing")
		e, err := g.Effect(psi, pose)
		if err != nil {
			t.Fatal(err)
		}
		if e.Margin < 0.3 {
			t.Skip("too near a dead centre for differences")
		}
		want := fd.Derivative(func(x float64) float64 {
			p, err := g.PitchWithBar(psi, pose, units.Angle(x))
			if err != nil {
				t.Fatal(err)
			}
			return float64(p)
		}, 0, &fd.Settings{Formula: fd.Central, Step: 1e-4})
		if math.Abs(e.PerTeeter-want) > 1e-6 {
			t.Fatalf("per teeter %v, by differences %v", e.PerTeeter, want)
		}
		// A plate end and a bar end that rise alike raise the pitch link as much:
		// the shares add to one without a washout.
		if plate, bar := g.Spec().Mixer.Shares(); g.Spec().Mixer.WashoutIn == 0 && math.Abs(plate+bar-1) > 1e-15 {
			t.Fatalf("shares %v and %v", plate, bar)
		}
	})
}

// A plate that rises turns a leading horn up and a trailing one down.
func TestHornSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGrip(t)
		e, err := g.Effect(angle(t, 0, 360, "bearing"), swash.Pose{Height: neutral})
		if err != nil {
			t.Fatal(err)
		}
		if up := e.PerPose.Height > 0; up != (g.Spec().Side == pitch.Leading) {
			t.Fatalf("%s horn: %v rad/m", g.Spec().Side, e.PerPose.Height)
		}
	})
}

// Turning the tilt and the blade together changes nothing.
func TestTurningTheRotor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, pose := drawGrip(t), drawPose(t)
		psi, turn := angle(t, 0, 360, "bearing"), angle(t, 0, 360, "turn")
		a, err := g.Pitch(psi, pose)
		if err != nil {
			t.Fatal(err)
		}
		pose.Tilt = swash.TiltTo(pose.Tilt.Amount(), pose.Tilt.LowSide()+turn)
		b, err := g.Pitch(psi+turn, pose)
		if err != nil {
			t.Fatal(err)
		}
		if off := (a - b).Degrees(); !(math.Abs(off) < 1e-10) {
			t.Fatalf("off by %g°", off)
		}
	})
}

// A rotor seen in a mirror turns the other way with the same pitch.
func TestMirroredRotor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, pose := drawSpec(t), drawPose(t)
		psi := angle(t, 0, 360, "bearing")
		pitchOf := func(spec pitch.GripSpec, psi units.Angle, pose swash.Pose) units.Angle {
			g, err := pitch.NewGrip(spec, neutral)
			if err != nil {
				t.Fatal(err)
			}
			p, err := g.Pitch(psi, pose)
			if err != nil {
				t.Fatal(err)
			}
			return p
		}
		a := pitchOf(spec, psi, pose)
		spec.Phase, spec.RingDriver = -spec.Phase, -spec.RingDriver
		if spec.Rotation == pitch.Clockwise {
			spec.Rotation = pitch.CounterClockwise
		} else {
			spec.Rotation = pitch.Clockwise
		}
		pose.Tilt.Right = -pose.Tilt.Right
		b := pitchOf(spec, -psi, pose)
		if off := (a - b).Degrees(); !(math.Abs(off) < 1e-10) {
			t.Fatalf("off by %g°", off)
		}
	})
}

// The analytic slopes agree with differences of the exact pitch.
func TestEffectAgainstDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, pose := drawSpec(t), drawPose(t)
		psi := angle(t, 0, 360, "bearing")
		g, err := pitch.NewGrip(spec, neutral)
		if err != nil {
			t.Fatal(err)
		}
		e, err := g.Effect(psi, pose)
		if err != nil {
			t.Fatal(err)
		}
		if e.Margin < 0.3 {
			t.Skip("too near a dead centre for differences")
		}
		slope := func(f func(x float64) (pitch.GripSpec, swash.Pose), step float64) float64 {
			return fd.Derivative(func(x float64) float64 {
				s, at := f(x)
				g, err := pitch.NewGrip(s, neutral)
				if err != nil {
					t.Fatal(err)
				}
				p, err := g.Pitch(psi, at)
				if err != nil {
					t.Fatal(err)
				}
				return float64(p)
			}, 0, &fd.Settings{Formula: fd.Central, Step: step})
		}
		// A mixing arm counts travel from neutral, which the slopes over the
		// spec must keep: only the spec's own field moves.
		const step, tolerance = 1e-6, 1e-6
		for _, c := range []struct {
			what string
			got  float64
			f    func(x float64) (pitch.GripSpec, swash.Pose)
		}{
			{"height", e.PerPose.Height, func(x float64) (pitch.GripSpec, swash.Pose) {
				return spec, pose.Moved(swash.PoseRate{Height: x})
			}},
			{"right", e.PerPose.Right, func(x float64) (pitch.GripSpec, swash.Pose) {
				return spec, pose.Moved(swash.PoseRate{Right: x})
			}},
			{"forward", e.PerPose.Forward, func(x float64) (pitch.GripSpec, swash.Pose) {
				return spec, pose.Moved(swash.PoseRate{Forward: x})
			}},
			{"link", e.PerLink, func(x float64) (pitch.GripSpec, swash.Pose) {
				s := spec
				s.Link += units.Length(x)
				return s, pose
			}},
			{"horn", e.PerHorn, func(x float64) (pitch.GripSpec, swash.Pose) {
				s := spec
				s.Horn += units.Length(x)
				return s, pose
			}},
			{"hub height", e.PerHubHeight, func(x float64) (pitch.GripSpec, swash.Pose) {
				s := spec
				s.HubHeight += units.Length(x)
				return s, pose
			}},
		} {
			want := slope(c.f, step)
			if !(math.Abs(c.got-want) < tolerance*math.Max(10, math.Abs(want))) {
				t.Fatalf("%s: %v, by differences %v", c.what, c.got, want)
			}
		}
	})
}

// The Fourier parts are those of gonum's FFT over many more bearings, and the
// slopes are those of the parts.
func TestRevolutionAgainstFFT(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, pose := drawGrip(t), drawPose(t)
		got, err := g.Revolution(pose)
		if err != nil {
			t.Fatal(err)
		}
		const n = 256
		seq := make([]float64, n)
		for i := range seq {
			p, err := g.Pitch(units.Angle(2*math.Pi*float64(i)/n), pose)
			if err != nil {
				t.Fatal(err)
			}
			seq[i] = float64(p)
		}
		c := fourier.NewFFT(n).Coefficients(nil, seq)
		const tolerance = 1e-12 // rad
		for _, part := range []struct {
			what      string
			got, want float64
		}{
			{"collective", float64(got.Collective), real(c[0]) / n},
			{"cosine", float64(got.Cosine), 2 * real(c[1]) / n},
			{"sine", float64(got.Sine), -2 * imag(c[1]) / n},
		} {
			if !(math.Abs(part.got-part.want) < tolerance) {
				t.Fatalf("%s: %v, want %v", part.what, part.got, part.want)
			}
		}
		cyclic, slopes, err := g.Slopes(pose)
		if err != nil {
			t.Fatal(err)
		}
		if cyclic != got.Cyclic {
			t.Fatalf("Slopes gives %v, Revolution %v", cyclic, got.Cyclic)
		}
		const step = 1e-6
		rise := swash.PoseRate{Height: step / 10, Right: step, Forward: -step}
		a, err := g.Revolution(pose.Moved(rise))
		if err != nil {
			t.Fatal(err)
		}
		b, err := g.Revolution(pose.Moved(rise.Scale(-1)))
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []struct{ got, want float64 }{
			{slopes.Collective.Dot(rise), float64(a.Collective-b.Collective) / 2},
			{slopes.Cosine.Dot(rise), float64(a.Cosine-b.Cosine) / 2},
			{slopes.Sine.Dot(rise), float64(a.Sine-b.Sine) / 2},
		} {
			if !(math.Abs(part.got-part.want) < 1e-6*step) {
				t.Fatalf("slopes: %v, by differences %v", part.got, part.want)
			}
		}
	})
}

// The pose for a pitch gives that pitch, and is the one it came from.
func TestPoseFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, pose := drawGrip(t), drawPose(t)
		want, err := g.Revolution(pose)
		if err != nil {
			t.Fatal(err)
		}
		back, err := g.PoseFor(want.Cyclic)
		if err != nil {
			t.Fatal(err)
		}
		const tolerance = 1e-10
		if off := (back.Height - pose.Height).Millimetres(); !(math.Abs(off) < tolerance) {
			t.Fatalf("height off by %g mm", off)
		}
		if off := back.Tilt.Sub(pose.Tilt).Amount().Degrees(); !(off < tolerance) {
			t.Fatalf("tilt off by %g°", off)
		}
	})
}

func TestPoseForRefuses(t *testing.T) {
	g := demoGrip(t)
	var target *pitch.CyclicError
	if _, err := g.PoseFor(pitch.Cyclic{Collective: 170 * units.Degree}); !errors.As(err, &target) {
		t.Errorf("170° of collective: %v", err)
	}
	var spec *units.FieldError
	if _, err := g.PoseFor(pitch.Cyclic{Sine: units.Angle(math.NaN())}); !errors.As(err, &spec) {
		t.Errorf("NaN: %v", err)
	}
}

// Phase names the bearing where the blade has most pitch.
func TestCyclicPhase(t *testing.T) {
	c := pitch.Cyclic{Collective: 2 * units.Degree, Cosine: 0, Sine: -3 * units.Degree}
	if got := c.Phase().Degrees(); math.Abs(got-270) > 1e-12 {
		t.Errorf("phase %v°, want 270°", got)
	}
	if got := c.At(c.Phase()).Degrees(); math.Abs(got-5) > 1e-12 {
		t.Errorf("pitch there %v°, want 5°", got)
	}
	if got := c.Amplitude().Degrees(); math.Abs(got-3) > 1e-12 {
		t.Errorf("amplitude %v°, want 3°", got)
	}
}

func demoSpec() pitch.GripSpec {
	spec := pitch.GripSpec{
		RingRadius: 16 * units.Millimetre,
		Phase:      80 * units.Degree,
		HubHeight:  105 * units.Millimetre,
		Horn:       20 * units.Millimetre,
		HornX:      4 * units.Millimetre,
		Rotation:   pitch.Clockwise,
		Side:       pitch.Leading,
	}
	return spec
}

func demoGrip(tb testing.TB) *pitch.Grip {
	tb.Helper()
	spec := demoSpec()
	var err error
	if spec.Link, err = spec.LinkFor(0, neutral); err != nil {
		tb.Fatal(err)
	}
	g, err := pitch.NewGrip(spec, neutral)
	if err != nil {
		tb.Fatal(err)
	}
	return g
}

func TestGripRefuses(t *testing.T) {
	nan := math.NaN()
	for name, spoil := range map[string]func(*pitch.GripSpec){
		"RingRadius": func(s *pitch.GripSpec) { s.RingRadius = 0 },
		"Phase":      func(s *pitch.GripSpec) { s.Phase = units.Angle(nan) },
		"RingDriver": func(s *pitch.GripSpec) { s.RingDriver = units.Angle(math.Inf(1)) },
		"HubHeight":  func(s *pitch.GripSpec) { s.HubHeight = units.Length(nan) },
		"Horn":       func(s *pitch.GripSpec) { s.Horn = -1 },
		"HornX":      func(s *pitch.GripSpec) { s.HornX = units.Length(nan) },
		"Rest":       func(s *pitch.GripSpec) { s.Rest = units.Angle(nan) },
		"Link":       func(s *pitch.GripSpec) { s.Link = 0 },
		"Mixer":      func(s *pitch.GripSpec) { s.Mixer.PlateSide = 0.01 },
		"Mixer.WashoutOut": func(s *pitch.GripSpec) {
			s.Mixer = pitch.MixingArm{PlateSide: 0.01, BarSide: 0.01, WashoutIn: 0.01}
		},
		"Mixer.BarRadius": func(s *pitch.GripSpec) { s.Mixer.BarRadius = units.Length(nan) },
		"Rotation":        func(s *pitch.GripSpec) { s.Rotation = "widdershins" },
		"Side":            func(s *pitch.GripSpec) { s.Side = "" },
	} {
		spec := demoGrip(t).Spec()
		spoil(&spec)
		_, err := pitch.NewGrip(spec, neutral)
		var e *units.FieldError
		if !errors.As(err, &e) || e.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
	spec := demoGrip(t).Spec()
	spec.Link = 10 * units.Millimetre
	var grip *pitch.GripError
	var reach *linkage.ReachError
	if _, err := pitch.NewGrip(spec, neutral); !errors.As(err, &grip) || !errors.As(err, &reach) {
		t.Errorf("short link: %v", err)
	}
	g := demoGrip(t)
	for _, pose := range []swash.Pose{{Height: units.Length(nan)}, {Tilt: swash.Tilt{Right: 2}}} {
		var e *units.FieldError
		if _, err := g.Pitch(0, pose); !errors.As(err, &e) {
			t.Errorf("pose %v: %v", pose, err)
		}
	}
}

// FuzzGrip feeds the blade solver any head and any pose. It must not panic, and
// a pitch that it gives must close the link.
func FuzzGrip(f *testing.F) {
	f.Add(0.016, 1.4, 0.0, 0.105, 0.02, 0.004, 0.0, 0.045, 1.0, 0.062, 0.1, 0.05, 0.7, true, true)
	f.Add(0.012, -1.2, 0.3, 0.09, 0.013, 0.0, 0.2, 0.03, 0.6, 0.06, -0.2, 0.15, 5.0, false, true)
	f.Add(1e300, 0.0, 0.0, 1e-300, 0.02, 0.004, 0.0, 0.045, 1.0, 0.062, 3.0, 0.05, 0.7, true, false)
	f.Fuzz(func(t *testing.T, ring, phase, driver, hub, horn, x, rest, link, mixer, height, right, forward, psi float64, clockwise, leading bool) {
		spec := pitch.GripSpec{
			RingRadius: units.Length(ring), Phase: units.Angle(phase), RingDriver: units.Angle(driver),
			HubHeight: units.Length(hub), Horn: units.Length(horn), HornX: units.Length(x), Rest: units.Angle(rest),
			Link: units.Length(link), Rotation: pitch.CounterClockwise, Side: pitch.Trailing,
		}
		if mixer != 1 {
			spec.Mixer = pitch.MixingArm{PlateSide: units.Length(1 - mixer), BarSide: units.Length(mixer), BarRadius: units.Length(x)}
		}
		if clockwise {
			spec.Rotation = pitch.Clockwise
		}
		if leading {
			spec.Side = pitch.Leading
		}
		g, err := pitch.NewGrip(spec, units.Length(height))
		if err != nil {
			return
		}
		pose := swash.Pose{Height: units.Length(height), Tilt: swash.Tilt{Right: units.Angle(right), Forward: units.Angle(forward)}}
		p, err := g.Pitch(units.Angle(psi), pose)
		if err != nil {
			return
		}
		if !(math.Abs(float64(p)) <= math.Pi+1e-9) {
			t.Fatalf("pitch %v", float64(p))
		}
		e, err := g.Effect(units.Angle(psi), pose)
		if err == nil && e.Pitch != p {
			t.Fatalf("Effect gives %v, Pitch %v", e.Pitch, p)
		}
		// The link cut for the pitch found at the level plate is the link.
		if tilt := pose.Tilt.Amount(); tilt != 0 || mixer != 1 || math.Abs(psi) > 10 {
			return
		}
		cut, err := spec.LinkFor(p, pose.Height)
		if err != nil {
			t.Fatal(err)
		}
		size := ring + math.Abs(hub) + horn + math.Abs(x) + link + math.Abs(height)
		if off := float64(cut) - link; !(math.Abs(off) < 1e-9*size) {
			t.Fatalf("link %v closes as %v", link, float64(cut))
		}
	})
}
