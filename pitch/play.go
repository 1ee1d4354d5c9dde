package pitch

import (
	"math"
	"math/rand/v2"
	"slices"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Joint is one place with play on the way from the servos to the blade.
type Joint struct {
	Name string // for people, such as "front servo gear"
	// Half is half of the play: the joint can stand anywhere within Half of its
	// middle, in metres along its link or in radians about its shaft. It is 0 or more.
	Half float64
	// Blade is the derivative of the blade's pitch over the joint's place, in
	// rad/m or rad/rad, through the plate and directly.
	Blade float64
	// Pose is that of the plate's pose, in metres and radians per metre or radian. It is
	// 0 for joints above the plate.
	Pose swash.PoseRate
}

// PlainJSON returns what stands for a joint in JSON: the play that it gives alone.
func (j Joint) PlainJSON() any {
	return struct {
		Joint string `json:"joint"`
		Play
	}{j.Name, Joints{j}.Worst()}
}

// Joints are all joints with play on the way to one blade. What the methods tell is to first
// order in the play: right for play that is small compared with the arms.
type Joints []Joint

// Play is how far a hand can move something against its free play (slop, or backlash of
// gears), to either side of the middle. Neither is negative.
type Play struct {
	Blade units.Angle `json:"blade"` // change of the blade's pitch
	Tilt  units.Angle `json:"tilt"`  // change of the plate's tilt, in whichever direction
}

// Worst returns the play with every joint at the end of its play that adds up: no
// more is possible. Blade and Tilt need not happen together.
func (l Joints) Worst() Play {
	var s Play
	for _, j := range l {
		s.Blade += units.Angle(math.Abs(j.Blade) * j.Half)
	}
	// The tilt is a vector. Its farthest corner lies, for some direction, where
	// each joint adds what it can to that direction; the choice changes only at
	// the directions square to one of the joints.
	var turns []float64
	for _, j := range l {
		if j.tilts() {
			turns = append(turns, math.Atan2(j.Pose.Right, -j.Pose.Forward))
		}
	}
	for _, turn := range turns {
		const nudge = 1e-9 // off the direction where the choice is open
		s.Tilt = max(s.Tilt, l.corner(turn+nudge), l.corner(turn-nudge))
	}
	return s
}

// tilts reports whether a joint moves the plate's tilt.
func (j *Joint) tilts() bool { return j.Pose.Right != 0 || j.Pose.Forward != 0 }

// corner returns the amount of tilt where each joint adds to a direction, given by
// its angle from right towards forward.
func (l Joints) corner(direction float64) units.Angle {
	sin, cos := math.Sincos(direction)
	var right, forward float64
	for _, j := range l {
		half := math.Copysign(j.Half, j.Pose.Right*cos+j.Pose.Forward*sin)
		right += half * j.Pose.Right
		forward += half * j.Pose.Forward
	}
	return units.Angle(math.Hypot(right, forward))
}

// RootSumSquare returns the root of the sum of the squares of what each joint does
// alone: what is likely where there are many joints and no single one dominates.
func (l Joints) RootSumSquare() Play {
	var blade, tilt float64
	for _, j := range l {
		blade = math.Hypot(blade, j.Blade*j.Half)
		tilt = math.Hypot(tilt, math.Hypot(j.Pose.Right, j.Pose.Forward)*j.Half)
	}
	return Play{units.Angle(blade), units.Angle(tilt)}
}

// Spread is what a number of random builds showed, each joint standing anywhere within its
// play with equal chance.
type Spread struct {
	RMS     Play `json:"rms"`        // root mean square: a RootSumSquare over the root of 3, but for chance
	P95     Play `json:"p95"`        // what 95 of 100 builds stay within
	Largest Play `json:"most_drawn"` // of all builds, never more than Worst
}

// Sample draws random builds by a seeded generator. The same seed and number give the same
// spread on every computer that does not fuse multiply and add. Fewer than one build
// gives the zero Spread.
func (l Joints) Sample(seed uint64, builds int) Spread {
	if builds < 1 {
		return Spread{}
	}
	random := rand.New(rand.NewPCG(seed, 0))
	blades, tilts := make([]float64, builds), make([]float64, builds)
	for b := range builds {
		var blade, right, forward float64
		for _, j := range l {
			at := j.Half * (2*random.Float64() - 1)
			blade += at * j.Blade
			right += at * j.Pose.Right
			forward += at * j.Pose.Forward
		}
		blades[b], tilts[b] = math.Abs(blade), math.Hypot(right, forward)
	}
	slices.Sort(blades)
	slices.Sort(tilts)
	at95 := (builds*95+99)/100 - 1
	return Spread{
		RMS:     Play{rms(blades), rms(tilts)},
		P95:     Play{units.Angle(blades[at95]), units.Angle(tilts[at95])},
		Largest: Play{units.Angle(blades[builds-1]), units.Angle(tilts[builds-1])},
	}
}

func rms(x []float64) units.Angle {
	var sum float64
	for _, v := range x {
		sum += v * v
	}
	return units.Angle(math.Sqrt(sum / float64(len(x))))
}
