package linkagetest_test

import (
	"errors"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/linkage/linkagetest"
	"example.org/levelhead/units"
)

// The geometry types of package linkage hold their laws.

func TestSliderCrank(t *testing.T) { linkagetest.Test(t, drawSliderCrank) }
func TestArmToLine(t *testing.T)   { linkagetest.Test(t, drawArmToLine) }
func TestFourBar(t *testing.T)     { linkagetest.Test(t, drawFourBar) }
func TestArmToArm(t *testing.T)    { linkagetest.Test(t, drawArmToArm) }
func TestLever(t *testing.T)       { linkagetest.Test(t, drawLever(linkage.Angle), linkagetest.Odd) }

// Two shafts as far apart as the link is long carry like arms: one copies the
// other. Where the arms stand square to the link at neutral, the dead centres are
// equally far to both sides. A link between two arms, or an arm and a line, is odd
// in no other case: what would turn a linkage over at neutral, and leave it as it
// is, lays its link in line with the arm.
func TestParallelogram(t *testing.T) {
	linkagetest.Test(t, func(t *rapid.T) linkage.Linkage {
		arm, link := millimetres(t, "arm", 5, 30), millimetres(t, "link", 20, 90)
		const square = 90 * units.Degree
		return build(t, linkage.NewArmToArm, linkage.FourBar(arm, link, arm, link, square, square))
	}, linkagetest.Odd)
}

// A drag link: the ground is the shortest bar of a chain in which the shortest and
// the longest together are shorter than the other two (Grashof), so that both arms
// turn all round.
func TestDragLink(t *testing.T) {
	linkagetest.Test(t, func(t *rapid.T) linkage.Linkage {
		ground := millimetres(t, "ground", 2, 10)
		part := func(name string) units.Length {
			return units.Length(rapid.Float64Range(2, 2.9).Draw(t, name)) * ground
		}
		neutral := degrees(t, "neutral", -180, 180)
		return build(t, linkage.NewArmToArm, linkage.FourBar(part("crank"), part("coupler"), part("rocker"), ground, neutral, neutral))
	})
}

func TestChainOfTwo(t *testing.T) {
	linkagetest.Test(t, func(t *rapid.T) linkage.Linkage {
		return build(t, join, []linkage.Linkage{drawArms(t), drawEnd(t)})
	})
}

func TestChainOfThree(t *testing.T) {
	linkagetest.Test(t, func(t *rapid.T) linkage.Linkage {
		return build(t, join, []linkage.Linkage{drawArms(t), drawArms(t), drawEnd(t)})
	})
}

func TestChainOfLevers(t *testing.T) {
	linkagetest.Test(t, func(t *rapid.T) linkage.Linkage {
		return build(t, join, []linkage.Linkage{drawLever(linkage.Angle)(t), drawLever(linkage.Length)(t)})
	}, linkagetest.Odd)
}

func join(members []linkage.Linkage) (*linkage.Chain, error) { return linkage.NewChain(members...) }

// build makes a linkage, and skips the draw if its description is refused.
func build[S any, L linkage.Linkage](t *rapid.T, make func(S) (L, error), spec S) linkage.Linkage {
	l, err := make(spec)
	if err != nil {
		t.Skip(err)
	}
	return l
}

func millimetres(t *rapid.T, name string, low, high float64) units.Length {
	return units.Length(rapid.Float64Range(low, high).Draw(t, name)) * units.Millimetre
}

func degrees(t *rapid.T, name string, low, high float64) units.Angle {
	return units.Angle(rapid.Float64Range(low, high).Draw(t, name)) * units.Degree
}

// drawSliderCrank draws a crank that reaches its slider all round.
func drawSliderCrank(t *rapid.T) linkage.Linkage {
	return build(t, linkage.NewArmToLine, linkage.SliderCrank(
		millimetres(t, "crank", 5, 20), millimetres(t, "rod", 35, 90), millimetres(t, "offset", -12, 12),
		degrees(t, "neutral", 10, 160)))
}

// drawFourBar draws a four-bar of any kind, that closes with its crank anywhere
// in the range drawn.
func drawFourBar(t *rapid.T) linkage.Linkage {
	return build(t, linkage.NewArmToArm, linkage.FourBar(
		millimetres(t, "crank", 5, 25), millimetres(t, "coupler", 35, 60), millimetres(t, "rocker", 15, 30), millimetres(t, "ground", 35, 60),
		degrees(t, "neutral", 50, 130), degrees(t, "rocker at neutral", 40, 140)))
}

// drawLever draws a lever whose input is of the kind given.
func drawLever(in linkage.Kind) func(t *rapid.T) linkage.Linkage {
	return func(t *rapid.T) linkage.Linkage {
		ratio := rapid.Float64Range(0.01, 10).Draw(t, "ratio")
		if rapid.Bool().Draw(t, "backwards") {
			ratio = -ratio
		}
		l, err := linkage.NewLever(ratio, in, linkage.Length)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
}

// drawArms draws a linkage from an arm to an arm, drawEnd one from an arm to
// anything.
func drawArms(t *rapid.T) linkage.Linkage {
	return rapid.OneOf(rapid.Custom(drawFourBar), rapid.Custom(drawArmToArm)).Draw(t, "arm to arm")
}

func drawEnd(t *rapid.T) linkage.Linkage {
	return rapid.OneOf(
		rapid.Custom(drawSliderCrank), rapid.Custom(drawArmToLine), rapid.Custom(drawLever(linkage.Angle)), rapid.Custom(drawArms),
	).Draw(t, "arm to anything")
}

// drawArmToLine draws an arm and a line that lie anyhow in space.
func drawArmToLine(t *rapid.T) linkage.Linkage {
	arm, ball, link := drawArm(t)
	return build(t, linkage.NewArmToLine, linkage.LineSpec{
		Arm:   arm,
		Ball:  ball,
		Along: direction(askew(t, "line", link)),
	})
}

// drawArmToArm draws two arms that lie anyhow in space.
func drawArmToArm(t *rapid.T) linkage.Linkage {
	driving, ball, link := drawArm(t)
	// The ball's way square to the driven arm, and not to the link.
	way := askew(t, "way", link)
	axis := r3.Unit(r3.Cross(way, drawVec(t, "driven axis")))
	spoke := r3.Cross(way, axis)
	radius := millimetres(t, "driven radius", 5, 30)
	return build(t, linkage.NewArmToArm, linkage.ArmsSpec{
		Driving: driving,
		Driven: linkage.ArmSpec{
			Shaft:   linkage.PointOf(r3.Sub(ball.Vec(), r3.Scale(float64(radius), spoke))),
			Axis:    direction(axis),
			Neutral: direction(spoke),
			Radius:  radius,
		},
	})
}

// drawArm draws an arm anywhere in space and where its link's other ball is at
// neutral, away from a dead centre. It returns the link's direction too.
func drawArm(t *rapid.T) (arm linkage.ArmSpec, ball linkage.Point, link r3.Vec) {
	axis := drawVec(t, "axis")
	spoke := r3.Unit(r3.Cross(axis, drawVec(t, "spoke")))
	arm = linkage.ArmSpec{
		Shaft:   linkage.PointOf(r3.Scale(0.05, drawVec(t, "shaft"))),
		Axis:    direction(axis),
		Neutral: direction(spoke),
		Radius:  millimetres(t, "radius", 5, 30),
		Link:    millimetres(t, "link", 20, 90),
	}
	link = askew(t, "link", r3.Unit(r3.Cross(axis, spoke)))
	at := r3.Add(r3.Scale(float64(arm.Radius), spoke), r3.Scale(float64(arm.Link), link))
	return arm, linkage.PointOf(r3.Add(arm.Shaft.Vec(), at)), link
}

// askew draws a unit vector at most some 75° from the line of another one: where a
// link and a motion are square to each other is a dead centre.
func askew(t *rapid.T, name string, from r3.Vec) r3.Vec {
	sense := 1.
	if rapid.Bool().Draw(t, name+" backwards") {
		sense = -1
	}
	aside := r3.Unit(r3.Cross(from, drawVec(t, name)))
	tangent := rapid.Float64Range(-4, 4).Draw(t, name+" aside")
	return r3.Unit(r3.Add(r3.Scale(sense, from), r3.Scale(tangent, aside)))
}

// drawVec draws a unit vector. Its parts are never 0, so that no fixed direction
// of small whole numbers lies along it.
func drawVec(t *rapid.T, name string) r3.Vec {
	part := rapid.Float64Range(0.1, 1)
	v := r3.Vec{X: part.Draw(t, name+" x"), Y: part.Draw(t, name+" y"), Z: part.Draw(t, name+" z")}
	if rapid.Bool().Draw(t, name+" mirrored") {
		v.X = -v.X
	}
	if rapid.Bool().Draw(t, name+" upside down") {
		v.Z = -v.Z
	}
	return r3.Unit(v)
}

func direction(v r3.Vec) linkage.Direction { return linkage.Direction{X: v.X, Y: v.Y, Z: v.Z} }

// Of this chain's Out the differences over two steps agree to nine digits by luck, and are
// six parts in a million off.
func TestLuckyDifferences(t *testing.T) {
	z := linkage.Direction{Z: 1}
	arm := func(x, radius, link units.Length, right, forward float64) linkage.ArmSpec {
		return linkage.ArmSpec{Shaft: linkage.Point{X: x}, Axis: z, Neutral: linkage.Direction{X: right, Y: forward}, Radius: radius, Link: link}
	}
	first, err1 := linkage.NewArmToArm(linkage.ArmsSpec{
		Driving: arm(0, 0.012457656860351564, 0.035, 0.5441815301927122, 0.8389674977000707),
		Driven:  arm(0.05561394500732422, 0.019186981201171877, 0.035, -0.19936793441719708, 0.9799247046208296),
	})
	second, err2 := linkage.NewArmToArm(linkage.ArmsSpec{
		Driving: arm(0, 0.025, 0.057293658716604114, -0.6299567399671637, 0.7766302246049552),
		Driven:  arm(0.05732635444248445, 0.028574654579162598, 0.057293658716604114, 0.5036481414275771, 0.863908878086426),
	})
	last, err3 := linkage.NewArmToLine(linkage.LineSpec{
		Arm:   arm(0, 0.010480573877692223, 0.045585738711059094, 0.4403969590500435, 0.897803162424523),
		Ball:  linkage.Point{Y: 8.114147931337357e-11},
		Along: linkage.Direction{X: 1},
		Side:  linkage.Ahead,
	})
	if err := errors.Join(err1, err2, err3); err != nil {
		t.Fatal(err)
	}
	chain, err := join([]linkage.Linkage{first, second, last})
	if err != nil {
		t.Fatal(err)
	}
	if err := linkagetest.Check(chain); err != nil {
		t.Error(err)
	}
}
