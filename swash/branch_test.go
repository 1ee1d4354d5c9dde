package swash_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// An answer is continuous with neutral: on the straight way of all arms from 0 to
// anywhere, the plate moves without a jump, and once it is refused it stays refused.
func TestPoseIsContinuousWithNeutral(t *testing.T) {
	const (
		steps = 200
		jump  = 0.3 // rad: far more than arms make that turn by less than half a degree each
	)
	layouts := [][]float64{{0, 120, 240}, {0, 135, 225}, {0, 90, 270}, {0, 90, 180, 270}}
	rapid.Check(t, func(t *rapid.T) {
		spec := drawUnevenAt(t, layouts)
		p, err := swash.NewPlate(spec)
		if err != nil {
			t.Skip("not a machine:", err)
		}
		arms := drawArmsTo(t, len(spec.Legs), 100)
		at, last := make([]units.Angle, len(arms)), p.Neutral()
		var ended error
		for k := range steps {
			part := float64(k+1) / steps
			for i, q := range arms {
				at[i] = q * units.Angle(part)
			}
			pose, err := p.Pose(at)
			switch {
			case err != nil:
				if ended == nil {
					ended = err
				}
				continue
			case ended != nil:
				t.Fatalf("at %.3f of the way %+v (tilt %v), after it had ended: %v", part, pose, pose.Tilt.Amount(), ended)
			}
			if moved := float64(pose.Tilt.Sub(last.Tilt).Amount()); !(moved < jump) {
				t.Fatalf("at %.3f of the way the plate jumps by %.2f rad, to %v", part, moved, pose.Tilt.Amount())
			}
			if !(pose.Tilt.Amount() <= 45*units.Degree*(1+1e-9)) || math.IsNaN(float64(pose.Height)) {
				t.Fatalf("%+v tilts by %v", pose, pose.Tilt.Amount())
			}
			last = pose
		}
	})
}
