package swash_test

import (
	"math"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// FuzzPose feeds the solver any machine and any arms at all. It must not panic
// or hang, and a pose that it gives must close: the arms that hold it are the
// ones asked for.
func FuzzPose(f *testing.F) {
	f.Add(0.03, 0.015, 0.06, 0.06, 0.0, 3.14, 0.1, -0.2, 0.3, uint8(3))
	f.Add(0.03, 0.015, 0.06, 0.06, 0.0, math.NaN(), 1.5, 1.5, -1.5, uint8(4))
	f.Add(1e-300, 1e300, 0.06, 0.06, 0.3, 0.0, 1e9, -0.2, 0.3, uint8(5))
	f.Add(0.03, 0.03, 0.03, 0.03, 0.1, 1.0, 0.7, -0.9, 1.2, uint8(3))
	f.Fuzz(func(t *testing.T, radius, arm, link, height, twist, guide, q0, q1, q2 float64, legs uint8) {
		n := int(legs % 7)
		spec := swash.PlateSpec{Height: units.Length(height)}
		if !math.IsNaN(guide) {
			spec.Guide = swash.GuideAt(units.Angle(guide))
		}
		angles := []float64{q0, q1, q2}
		arms := make([]units.Angle, n)
		for i := range n {
			ball := swash.Ball{
				Bearing: units.Angle(2 * math.Pi * (float64(i) + twist*float64(i*i)) / float64(n)),
				Radius:  units.Length(radius * (1 + 0.1*twist*float64(i))),
			}
			leg, err := swash.Upright(ball, spec.Height, units.Length(arm), units.Length(link), swash.Outward)
			if err != nil {
				t.Fatal(err)
			}
			spec.Legs = append(spec.Legs, leg)
			arms[i] = units.Angle(angles[i%3])
		}
		p, err := swash.NewPlate(spec)
		if err != nil {
			return
		}
		pose, err := p.Pose(arms)
		if err != nil {
			return
		}
		closes(t, spec, pose, arms)
	})
}

// closes checks a pose of three legs against the links' lengths alone.
func closes(t *testing.T, spec swash.PlateSpec, pose swash.Pose, arms []units.Angle) {
	if !units.Finite(pose.Height) || !(pose.Tilt.Amount() < math.Pi/2) {
		t.Fatalf("pose %+v", pose)
	}
	if len(arms) > 3 {
		return // strained, as Fights tells
	}
	f := pose.Frame(spec.Guide)
	for i, leg := range spec.Legs {
		a, err := linkage.NewArm(leg.Arm)
		if err != nil {
			t.Fatal(err)
		}
		at, _ := a.Ball(arms[i])
		ball := f.Point(leg.Ball)
		x, y, z := float64(at.X-ball.X), float64(at.Y-ball.Y), float64(at.Z-ball.Z)
		size := float64(leg.Arm.Link) + float64(leg.Arm.Radius) + float64(leg.Ball.Radius) + math.Abs(float64(spec.Height))
		if off := math.Hypot(math.Hypot(x, y), z) - float64(leg.Arm.Link); !(math.Abs(off) < 1e-9*size) {
			t.Fatalf("leg %d: link off by %g m in a machine of size %g m", i+1, off, size)
		}
	}
}
