package swash_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// length, angle and ratio draw quantities in hobby units.
func length(t *rapid.T, lo, hi float64, name string) units.Length {
	return units.Length(rapid.Float64Range(lo, hi).Draw(t, name)) * units.Millimetre
}

func angle(t *rapid.T, lo, hi float64, name string) units.Angle {
	return units.Angle(rapid.Float64Range(lo, hi).Draw(t, name)) * units.Degree
}

// drawGuide draws a guide, or none.
func drawGuide(t *rapid.T) swash.Guide {
	if rapid.Bool().Draw(t, "guided") {
		return swash.GuideAt(angle(t, 0, 360, "guide"))
	}
	return swash.Guide{}
}

// drawEven draws a machine with even legs: alike, and evenly spaced.
func drawEven(t *rapid.T) (swash.PlateSpec, swash.Layout) {
	n := rapid.IntRange(3, 6).Draw(t, "legs")
	radius := length(t, 15, 40, "ball radius")
	height := length(t, 30, 90, "height")
	arm := length(t, 8, 20, "arm")
	link := length(t, 40, 80, "link")
	toward := rapid.SampledFrom([]swash.Toward{swash.Outward, swash.Inward, swash.Clockwise, swash.CounterClockwise}).Draw(t, "toward")
	first := angle(t, 0, 360, "first bearing")
	spec := swash.PlateSpec{Height: height, Guide: drawGuide(t)}
	var layout swash.Layout
	for i := range n {
		ball := swash.Ball{Bearing: first + units.Angle(2*math.Pi*float64(i)/float64(n)), Radius: radius}
		leg, err := swash.Upright(ball, height, arm, link, toward)
		if err != nil {
			t.Fatal(err)
		}
		layout = append(layout, ball)
		spec.Legs = append(spec.Legs, leg)
	}
	return spec, layout
}

// drawUneven draws a machine of three irregular legs, links cut to fit at neutral.
func drawUneven(t *rapid.T) swash.PlateSpec {
	return drawUnevenAt(t, [][]float64{{0, 120, 240}, {0, 135, 225}, {0, 140, 220}, {0, 90, 270}})
}

// drawUnevenAt draws a machine of irregular legs at about one of the layouts'
// bearings.
func drawUnevenAt(t *rapid.T, layouts [][]float64) swash.PlateSpec {
	height := length(t, 40, 90, "height")
	spec := swash.PlateSpec{Height: height, Guide: drawGuide(t)}
	for _, b := range rapid.SampledFrom(layouts).Draw(t, "layout") {
		ball := swash.Ball{
			Bearing: units.Angle(b)*units.Degree + angle(t, -10, 10, "bearing"),
			Radius:  length(t, 15, 35, "ball radius"),
			Offset:  length(t, -3, 3, "offset"),
		}
		toward := rapid.SampledFrom([]swash.Toward{swash.Outward, swash.Inward, swash.Clockwise, swash.CounterClockwise}).Draw(t, "toward")
		leg, err := swash.Upright(ball, height, length(t, 9, 20, "arm"), length(t, 45, 80, "link"), toward)
		if err != nil {
			t.Fatal(err)
		}
		// Tip the arm's plane, and shift the shaft: the link is cut to fit.
		leg.Arm.Axis.X += rapid.Float64Range(-0.1, 0.1).Draw(t, "tip x")
		leg.Arm.Axis.Y += rapid.Float64Range(-0.1, 0.1).Draw(t, "tip y")
		square(&leg.Arm)
		leg.Arm.Shaft.X += length(t, -5, 5, "shift x")
		leg.Arm.Shaft.Y += length(t, -5, 5, "shift y")
		leg.Arm.Link = span(t, leg, spec.Guide, height)
		spec.Legs = append(spec.Legs, leg)
	}
	return spec
}

// square makes the neutral direction square to the axis again.
func square(a *linkage.ArmSpec) {
	u, n := a.Axis, a.Neutral
	k := (u.X*n.X + u.Y*n.Y + u.Z*n.Z) / (u.X*u.X + u.Y*u.Y + u.Z*u.Z)
	a.Neutral = linkage.Direction{X: n.X - k*u.X, Y: n.Y - k*u.Y, Z: n.Z - k*u.Z}
}

// span returns the length from the leg's arm ball at 0 to its plate ball, the
// plate level at height.
func span(t *rapid.T, leg swash.LegSpec, g swash.Guide, height units.Length) units.Length {
	arm, err := linkage.NewArm(leg.Arm)
	if err != nil {
		t.Fatal(err)
	}
	at, _ := arm.Ball(0)
	f := swash.Pose{Height: height}.Frame(g)
	ball := f.Point(leg.Ball)
	return units.Length(math.Hypot(math.Hypot(float64(at.X-ball.X), float64(at.Y-ball.Y)), float64(at.Z-ball.Z)))
}

func build(t *rapid.T, spec swash.PlateSpec) *swash.Plate {
	p, err := swash.NewPlate(spec)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// plainServo is stepless, and has room enough never to clip in these tests.
func plainServo() servo.Servo {
	return servo.Servo{
		Neutral: 1520 * units.PulseMicrosecond,
		Throw:   400 * units.PulseMicrosecond,
		Travel:  40 * units.Degree,
		Low:     1,
		High:    1,
		Min:     500 * units.PulseMicrosecond,
		Max:     2500 * units.PulseMicrosecond,
	}
}

func drive(tb interface{ Fatal(...any) }, p *swash.Plate, mix swash.Mix, servos ...servo.Servo) *swash.Control {
	for len(servos) < p.Servos() {
		servos = append(servos, plainServo())
	}
	d, err := swash.NewControl(p, servos, mix)
	if err != nil {
		tb.Fatal(err)
	}
	return d
}

// even returns the even demonstration machine for tests that draw nothing.
func even(t *testing.T) *swash.Control {
	t.Helper()
	return drive(t, evenPlate(t), swash.ThreeAt120(0, 30*units.Millimetre).Mix())
}
