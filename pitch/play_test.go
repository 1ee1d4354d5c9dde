package pitch_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// drawJoints draws joints with play of a few hundredths of a millimetre, some of
// which do not move the plate.
func drawJoints(t *rapid.T, least, most int) pitch.Joints {
	slope := rapid.Float64Range(-40, 40)
	l := make(pitch.Joints, rapid.IntRange(least, most).Draw(t, "joints"))
	for i := range l {
		l[i] = pitch.Joint{Half: rapid.Float64Range(0, 1e-4).Draw(t, "half"), Blade: slope.Draw(t, "blade")}
		if rapid.IntRange(0, 4).Draw(t, "under the plate") > 0 {
			l[i].Pose = swash.PoseRate{Height: slope.Draw(t, "height"), Right: slope.Draw(t, "right"), Forward: slope.Draw(t, "forward")}
		}
	}
	return l
}

// farthest returns the most that the ends of all joints' plays add up to, by trying
// every combination of them.
func farthest(l pitch.Joints) pitch.Play {
	var s pitch.Play
	for ends := range 1 << len(l) {
		var blade float64
		var pose swash.PoseRate
		for i, j := range l {
			at := j.Half
			if ends>>i&1 == 1 {
				at = -at
			}
			blade += at * j.Blade
			pose = pose.Add(j.Pose.Scale(at))
		}
		s.Blade = max(s.Blade, units.Angle(math.Abs(blade)))
		s.Tilt = max(s.Tilt, units.Angle(math.Hypot(pose.Right, pose.Forward)))
	}
	return s
}

// playRounding is what two sums of the same joints may differ by, in rad.
const playRounding = 1e-15

// No combination of the joints' ends gives more than the worst, and one gives as
// much.
func TestWorstPlay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawJoints(t, 0, 10)
		got, want := l.Worst(), farthest(l)
		if math.Abs(float64(got.Blade-want.Blade)) > playRounding || math.Abs(float64(got.Tilt-want.Tilt)) > 1e-9*float64(want.Tilt)+playRounding {
			t.Fatalf("worst %+v, by trying all %+v", got, want)
		}
	})
	// Joints that tilt the plate one way all, and one that is square to them.
	for _, l := range []pitch.Joints{
		{{Half: 1, Pose: swash.PoseRate{Right: 1}}, {Half: 1, Pose: swash.PoseRate{Right: -2}}},
		{{Half: 1, Pose: swash.PoseRate{Right: 3}}, {Half: 1, Pose: swash.PoseRate{Forward: 4}}},
		// A strong one, and two nearly square to it: only a narrow range of
		// directions finds the corner.
		{{Half: 1, Pose: swash.PoseRate{Right: 8.66, Forward: 5}}, {Half: 1, Pose: swash.PoseRate{Right: -0.24, Forward: 1.02}}, {Half: 1, Pose: swash.PoseRate{Right: -0.59, Forward: 0.82}}},
	} {
		if got, want := l.Worst().Tilt, farthest(l).Tilt; math.Abs(float64(got-want)) > playRounding {
			t.Errorf("worst tilt %v, want %v", float64(got), float64(want))
		}
	}
}

// The likely play is within the worst one, and the same for a single joint.
func TestRootSumSquarePlay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawJoints(t, 0, 10)
		worst, likely := l.Worst(), l.RootSumSquare()
		var blade, tilt float64
		for _, j := range l {
			blade += j.Blade * j.Blade * j.Half * j.Half
			tilt += (j.Pose.Right*j.Pose.Right + j.Pose.Forward*j.Pose.Forward) * j.Half * j.Half
		}
		if math.Abs(float64(likely.Blade)-math.Sqrt(blade)) > playRounding || math.Abs(float64(likely.Tilt)-math.Sqrt(tilt)) > playRounding {
			t.Fatalf("%+v, want %v and %v", likely, math.Sqrt(blade), math.Sqrt(tilt))
		}
		if !(likely.Blade >= 0 && likely.Blade <= worst.Blade+playRounding && likely.Tilt >= 0 && likely.Tilt <= worst.Tilt+playRounding) {
			t.Fatalf("likely %+v, worst %+v", likely, worst)
		}
		if len(l) == 1 && (math.Abs(float64(likely.Blade-worst.Blade)) > playRounding || math.Abs(float64(likely.Tilt-worst.Tilt)) > playRounding) {
			t.Fatalf("one joint: likely %+v, worst %+v", likely, worst)
		}
	})
}

// Builds by chance stay within the worst, in order, and spread as their variances
// say: a joint anywhere within ±h has the root mean square h/√3.
func TestPlaySample(t *testing.T) {
	const (
		builds = 20000
		chance = 0.03 // several times the deviation of a root mean square of so many
	)
	play := rapid.Custom(func(t *rapid.T) pitch.Joints { return drawJoints(t, 6, 12) })
	for seed := range 5 {
		l := play.Example(seed)
		s, worst, likely := l.Sample(uint64(seed), builds), l.Worst(), l.RootSumSquare()
		if s != l.Sample(uint64(seed), builds) {
			t.Error("the same seed gives another spread")
		}
		if s == l.Sample(uint64(seed)+100, builds) {
			t.Error("another seed gives the same spread")
		}
		for _, c := range []struct {
			name                           string
			rms, p95, largest, worst, many float64
		}{
			{"blade", float64(s.RMS.Blade), float64(s.P95.Blade), float64(s.Largest.Blade), float64(worst.Blade), float64(likely.Blade)},
			{"tilt", float64(s.RMS.Tilt), float64(s.P95.Tilt), float64(s.Largest.Tilt), float64(worst.Tilt), float64(likely.Tilt)},
		} {
			if math.Abs(c.rms/(c.many/math.Sqrt(3))-1) > chance {
				t.Errorf("%s: root mean square %v, want %v", c.name, c.rms, c.many/math.Sqrt(3))
			}
			if !(c.rms < c.p95 && c.p95 < c.largest && c.largest <= c.worst) {
				t.Errorf("%s: root mean square %v, 95 %% %v, largest %v, worst %v", c.name, c.rms, c.p95, c.largest, c.worst)
			}
		}
	}
	// One joint alone stands evenly over its play.
	alone := pitch.Joints{{Half: 2, Blade: 3, Pose: swash.PoseRate{Right: 0.3, Forward: -0.4}}}.Sample(1, builds)
	for _, c := range [][2]float64{
		{float64(alone.P95.Blade), 0.95 * 6}, {float64(alone.Largest.Blade), 6},
		{float64(alone.P95.Tilt), 0.95 * 1}, {float64(alone.Largest.Tilt), 1},
	} {
		if math.Abs(c[0]/c[1]-1) > 0.01 {
			t.Errorf("one joint: %v, want %v", c[0], c[1])
		}
	}
	for _, n := range []int{0, -1} {
		if s := (pitch.Joints{{Half: 1, Blade: 1}}).Sample(1, n); s != (pitch.Spread{}) {
			t.Errorf("%d builds spread by %+v", n, s)
		}
	}
	// The 95th of 100, the 19th of 20, and the only one of one.
	if s := (pitch.Joints{{Half: 1, Blade: 1}}).Sample(1, 1); s.P95 != s.Largest || s.RMS != s.Largest {
		t.Errorf("one build: %+v", s)
	}
	if s := (pitch.Joints{}).Sample(1, 10); s != (pitch.Spread{}) || (pitch.Joints{}).Worst() != (pitch.Play{}) {
		t.Errorf("no joints: %+v", s)
	}
}
