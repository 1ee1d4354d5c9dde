package pitch_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// At every bearing of the blade the pitch link keeps its length to a ring that lies on
// the plate: its ball is placed here from the plate's own normal and the driver's
// vertical plane alone.
func TestPitchLinkKeepsItsLengthToTheRing(t *testing.T) {
	const tolerance = 1e-14 // m
	rapid.Check(t, func(t *rapid.T) {
		spec := drawSpec(t)
		spec.Mixer = pitch.MixingArm{}
		g, err := pitch.NewGrip(spec, neutral)
		if err != nil {
			t.Fatal(err)
		}
		pose, psi := drawPose(t), angle(t, -360, 360, "blade")
		got, err := g.Pitch(psi, pose)
		if err != nil {
			t.Fatal(err)
		}
		level := func(b units.Angle) r3.Vec { sin, cos := math.Sincos(float64(b)); return r3.Vec{X: sin, Y: cos} }
		up := r3.Vec{Z: 1}

		// The normal, from three balls of the plate as a guide elsewhere holds it.
		frame := pose.Frame(swash.GuideAt(angle(t, 0, 360, "guide")))
		var rim [3]r3.Vec
		for i, b := range swash.ThreeAt120(0, 1) {
			rim[i] = frame.Point(b).Vec()
		}
		n := r3.Unit(r3.Cross(r3.Sub(rim[2], rim[0]), r3.Sub(rim[1], rim[0])))
		// The driver's direction, square to the normal and to that of its plane.
		mark := level(psi + spec.RingDriver)
		p := r3.Unit(r3.Cross(r3.Cross(mark, up), n))
		if r3.Dot(p, mark) < 0 {
			p = r3.Scale(-1, p)
		}
		ahead := level(spec.Phase - spec.RingDriver)
		ball := r3.Add(r3.Vec{Z: float64(pose.Height)}, r3.Scale(float64(spec.RingOffset), n))
		ball = r3.Add(ball, r3.Scale(float64(spec.RingRadius)*ahead.Y, p))
		ball = r3.Add(ball, r3.Scale(float64(spec.RingRadius)*ahead.X, r3.Cross(p, n)))

		leading, side := 90*units.Degree, 1.0
		if spec.Rotation == pitch.CounterClockwise {
			leading = -leading
		}
		if spec.Side == pitch.Trailing {
			side = -1
		}
		sin, cos := math.Sincos(float64(got + spec.Rest))
		horn := r3.Vec{Z: float64(spec.HubHeight)}
		horn = r3.Add(horn, r3.Scale(float64(spec.HornX), level(psi)))
		horn = r3.Add(horn, r3.Scale(side*float64(spec.Horn)*cos, level(psi+leading)))
		horn = r3.Add(horn, r3.Scale(side*float64(spec.Horn)*sin, up))
		if off := r3.Norm(r3.Sub(horn, ball)) - float64(spec.Link); !(math.Abs(off) < tolerance) {
			t.Errorf("the pitch link is off by %g m", off)
		}
	})
}
