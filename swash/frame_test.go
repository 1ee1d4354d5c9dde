package swash_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// exact is rounding, for lengths near 1.
const exact = 1e-14

func drawPose(t *rapid.T) swash.Pose {
	return swash.Pose{
		Height: length(t, 30, 90, "height"),
		Tilt:   swash.TiltTo(angle(t, 0, 40, "tilt"), angle(t, 0, 360, "low side")),
	}
}

// spot returns where a ball stands, counted from the plate's centre.
func spot(p swash.Pose, g swash.Guide, b swash.Ball) r3.Vec {
	f := p.Frame(g)
	v := f.Point(b).Vec()
	v.Z -= float64(p.Height)
	return v
}

// A plate and a ring on it stand on one another in every pose: the ring's balls lie in
// the plane of the plate's, keep their radius and their offset from it, and each is a
// rigid body.
func TestRingStaysOnThePlate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pose, guide, driver := drawPose(t), drawGuide(t), swash.GuideAt(angle(t, 0, 360, "driver"))
		normal := func(g swash.Guide) r3.Vec {
			var rim [3]r3.Vec
			for i, b := range swash.ThreeAt120(0, 1) {
				rim[i] = spot(pose, g, b)
			}
			return r3.Unit(r3.Cross(r3.Sub(rim[2], rim[0]), r3.Sub(rim[1], rim[0]))) // clockwise from above
		}
		plate := normal(guide)
		ball := swash.Ball{Bearing: angle(t, 0, 360, "bearing"), Radius: 1, Offset: units.Length(rapid.Float64Range(-0.2, 0.2).Draw(t, "offset"))}
		at := spot(pose, driver, ball)
		over := r3.Dot(at, plate)
		if off := over - float64(ball.Offset); !(math.Abs(off) < exact) {
			t.Errorf("a ring ball stands %g from the plate's plane, not %g", over, float64(ball.Offset))
		}
		if radius := r3.Norm(r3.Sub(at, r3.Scale(over, plate))); !(math.Abs(radius-1) < exact) {
			t.Errorf("a ring ball stands %g from the plate's axis, not 1", radius)
		}
		for _, g := range []swash.Guide{guide, driver} {
			m, _ := g.Bearing()
			p := spot(pose, g, swash.Ball{Bearing: m, Radius: 1})
			q := spot(pose, g, swash.Ball{Bearing: m + 90*units.Degree, Radius: 1})
			n := spot(pose, g, swash.Ball{Offset: 1})
			for _, bad := range []float64{r3.Norm(p) - 1, r3.Norm(q) - 1, r3.Norm(n) - 1, r3.Dot(p, q), r3.Norm(r3.Sub(r3.Cross(p, n), q))} {
				if !(math.Abs(bad) < exact) {
					t.Errorf("p %v, q %v and n %v are no frame: off by %g", p, q, n, bad)
				}
			}
		}
	})
}

// The low side that a pose names is where the plate's rim is lowest, and its tilt is
// how steep the rim is there.
func TestLowSideIsTheLowestRim(t *testing.T) {
	const (
		sweep     = 720
		tolerance = 1e-6 // degree, of a place found by how deep it is
	)
	rapid.Check(t, func(t *rapid.T) {
		pose := swash.Pose{Tilt: swash.TiltTo(angle(t, 5, 40, "tilt"), angle(t, 0, 360, "low side"))}
		guide := drawGuide(t)
		deep := func(b float64) float64 {
			return spot(pose, guide, swash.Ball{Bearing: units.Angle(b), Radius: 1}).Z
		}
		lowest := 0.0
		for i := range sweep {
			if b := 2 * math.Pi * float64(i) / sweep; deep(b) < deep(lowest) {
				lowest = b
			}
		}
		// The slope of the rim is nothing at its lowest point.
		const small = 1e-4
		lo, hi := lowest-0.02, lowest+0.02
		for hi-lo > 1e-12 {
			if mid := (lo + hi) / 2; deep(mid+small) < deep(mid-small) {
				lo = mid
			} else {
				hi = mid
			}
		}
		v := spot(pose, guide, swash.Ball{Bearing: units.Angle(lo), Radius: 1})
		off := math.Remainder(float64(swash.Bearing(v.X, v.Y)-pose.Tilt.LowSide()), 2*math.Pi)
		if !(math.Abs(off)*180/math.Pi < tolerance) {
			t.Errorf("the rim is lowest %g° away from %v", off*180/math.Pi, pose.Tilt.LowSide())
		}
		if steep := math.Asin(-v.Z); !(math.Abs(steep-float64(pose.Tilt.Amount())) < tolerance) {
			t.Errorf("the rim dips by %g rad, the tilt is %g", steep, float64(pose.Tilt.Amount()))
		}
	})
}
