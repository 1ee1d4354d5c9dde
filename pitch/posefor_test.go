package pitch_test

import (
	"errors"
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Far from neutral a whole Newton step does not bring the blade nearer: these pitches,
// drawn at random, are reached by halving steps, or in many of them.
func TestPoseForFarFromNeutral(t *testing.T) {
	g := demoGrip(t)
	for _, c := range [][3]float64{ // degrees
		{74.21627039131516, -2.0291998338634514, -7.390896692290409},
		{-53.37482103942533, 1.564548844588284, 0.7671498126534786},
		{-45.09993262199488, 11.68560628957346, -13.25106018115775},
		{44.37940363001454, -2.1997578774038296, 2.3633797257311926},
		{83.79488809957536, -18.667929247523396, -15.094311424658047},
		{-62.56460904283452, 8.188812551546864, -4.357648151088052},
	} {
		want := pitch.Cyclic{
			Collective: units.Angle(c[0]) * units.Degree,
			Cosine:     units.Angle(c[1]) * units.Degree,
			Sine:       units.Angle(c[2]) * units.Degree,
		}
		pose, err := g.PoseFor(want)
		if err != nil {
			t.Errorf("%v: %v", want, err)
			continue
		}
		rev, err := g.Revolution(pose)
		if err != nil {
			t.Fatal(err)
		}
		const tolerance = 1e-12 // rad
		if off := distance(rev.Cyclic, want); !(off < tolerance) {
			t.Errorf("%v: off by %g rad", want, off)
		}
	}
}

func distance(a, b pitch.Cyclic) float64 {
	return math.Hypot(float64(a.Collective-b.Collective), math.Hypot(float64(a.Cosine-b.Cosine), float64(a.Sine-b.Sine)))
}

// A pitch out of reach is refused with the nearest that was found: nearer than the
// level plate at neutral is, and not the one wanted.
func TestPoseForSaysHowNear(t *testing.T) {
	g := demoGrip(t)
	home, err := g.Revolution(swash.Pose{Height: neutral})
	if err != nil {
		t.Fatal(err)
	}
	for _, degrees := range []float64{-100, -80, 150, 170} {
		want := pitch.Cyclic{Collective: units.Angle(degrees) * units.Degree}
		_, err := g.PoseFor(want)
		var target *pitch.CyclicError
		if !errors.As(err, &target) || target.Wanted != want {
			t.Errorf("%v°: %v", degrees, err)
			continue
		}
		if off := distance(target.Reached, want); !(off > 1e-3) || !(off < 0.9*distance(home.Cyclic, want)) {
			t.Errorf("%v°: reached %v, off by %v°", degrees, target.Reached, off*180/math.Pi)
		}
	}
}
