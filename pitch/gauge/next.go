package gauge

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// Candidate is a reading that could be taken.
type Candidate struct {
	Point
	Gauge string `json:"gauge,omitempty"` // as in Reading
}

// Suggestion is a reading that is worth the work.
type Suggestion struct {
	Candidate
	Expect units.Angle `json:"expect"`      // what it should show
	Sigma  units.Angle `json:"sigma"`       // standard deviation of what it will show
	After  units.Angle `json:"known_after"` // Plan.Now once this one and those before it are taken
}

// Plan is what to measure next.
type Plan struct {
	// Now is the root of the mean variance of blade pitch over the sticks: of all
	// blades, in all modes that work, at the nose, the tail and both sides.
	Now  units.Angle  `json:"known_now"`
	Take []Suggestion `json:"take"` // in order
	// Enough is set where Take is shorter than was asked for, because no other candidate is
	// worth the work: Now, once those of Take are taken, is within Resolution, or none of
	// the candidates lowers the mean variance by 2 %, and so Now by 1 %.
	Enough bool `json:"enough"`
	// Resolution is the rounding of the pitch gauge as a standard deviation, its step
	// over the root of 12; that of the best where there are several.
	Resolution units.Angle `json:"gauge_resolution"`
}

// worth is the share of the mean variance that a reading must remove: its root then
// falls by a hundredth.
const worth = 0.02

// Next returns up to n readings that have not been taken, in the order in which to take
// them. Each is for the build as it will be known once those before it are taken.
//
// Of the candidates, Next looks for the one that lowers the mean variance of blade pitch
// over the sticks most. It does not always return that one: among those that lower it by
// 80 % as much or more, the easiest goes first. Easy is a centred cyclic stick, and a blade
// where the file's gauge has it. A full cyclic stick is easier than a half one. Next
// returns no reading that lowers the mean variance by 2 % or less, and none once Now is
// within Resolution.
//
// Without candidates it takes those of Session.Candidates. It passes over those taken, and
// those that the build cannot get to or that would be off their gauge's scale. What a
// reading will show does not matter to how much it will tell, to first order. The error is
// a *ReadingError for a candidate that cannot be one.
func (r *Result) Next(n int, candidates ...Candidate) (*Plan, error) {
	if r.fit == nil {
		return nil, errNoFit
	}
	f := r.fit
	if candidates == nil {
		candidates = f.session.Candidates()
	}
	options, err := f.options(candidates, r)
	if err != nil {
		return nil, err
	}
	goal, err := f.goal()
	if err != nil {
		return nil, err
	}
	plan := &Plan{Resolution: f.session.resolution()}
	c := mat.NewSymDense(len(f.x), nil)
	c.CopySym(f.covariance)
	mean := trace(goal, c)
	plan.Now = units.Angle(math.Sqrt(mean))
	var moves, toward mat.VecDense
	for len(plan.Take) < n && mean > float64(plan.Resolution*plan.Resolution) {
		most := 0.
		for i := range options {
			o := &options[i]
			if o.taken {
				continue
			}
			// A reading with slopes j takes C j jᵀ C / (j C j + sigma²) from C, and
			// its part in the goal from the mean.
			moves.MulVec(c, o.slope)
			toward.MulVec(goal, &moves)
			o.variance = mat.Dot(o.slope, &moves) + o.sigma*o.sigma
			o.gain = mat.Dot(&moves, &toward) / o.variance
			most = math.Max(most, o.gain)
		}
		if most <= worth*mean {
			break
		}
		o := easiest(options, most)
		o.taken = true
		moves.MulVec(c, o.slope)
		c.SymRankOne(c, -1/o.variance, &moves)
		mean -= o.gain
		plan.Take = append(plan.Take, Suggestion{
			Candidate: candidates[o.candidate],
			Expect:    units.Angle(o.value),
			Sigma:     units.Angle(math.Sqrt(o.variance)),
			After:     units.Angle(math.Sqrt(math.Max(0, mean))),
		})
	}
	plan.Enough = len(plan.Take) < n
	return plan, nil
}

// option is a candidate as the calculated build shows it.
type option struct {
	candidate int
	value     float64
	sigma     float64 // of the gauge
	slope     *mat.VecDense
	trouble   int
	variance  float64 // of what it will show
	gain      float64 // what it takes from the mean variance
	taken     bool
}

// nearly is the part of the most that can be gained for which an easier reading is taken.
const nearly = 0.8

// alike is the part by which a reading must gain more than another one to go before it.
// Those of blades that are alike gain the same, and rounding, which is not the same on every
// machine, must not choose between them.
const alike = 1e-6

// easiest returns the reading that is least trouble to take of those that gain nearly the
// most, and of such the one that gains most, the first of those that gain alike.
func easiest(options []option, most float64) *option {
	var best *option
	for i := range options {
		o := &options[i]
		if o.taken || o.gain < nearly*most {
			continue
		}
		if best == nil || o.trouble < best.trouble || o.trouble == best.trouble && o.gain > (1+alike)*best.gain {
			best = o
		}
	}
	return best
}

// trouble counts what makes a reading harder to take: a blade that stands elsewhere than
// the file's gauge does, and cyclic stick that must be held, at half worse than at its end.
func (b *Session) trouble(s *Point) int {
	var n int
	if s.Bearing != nil && *s.Bearing != b.model.rig.Gauge().Bearing {
		n++
	}
	for _, cyclic := range []float64{s.Stick.Right, s.Stick.Forward} {
		switch math.Abs(cyclic) {
		case 0:
		case 1:
			n++
		default:
			n += 2
		}
	}
	return n
}

// options returns the candidates that can be read and have not been.
func (f *fit) options(candidates []Candidate, r *Result) ([]option, error) {
	b := f.session
	var options []option
	for i := range candidates {
		at, err := b.row(&candidates[i].Point, candidates[i].Gauge)
		if err != nil {
			return nil, b.model.readingError(i, err)
		}
		if r.took(&at) {
			continue
		}
		value, slope := make([]float64, 1), make([]float64, len(f.x))
		if f.build.show([]row{at}, f.x, value, slope) != nil {
			continue // the build cannot get there
		}
		if !b.gauges[at.gauge].Shows(units.Angle(value[0])) {
			continue
		}
		options = append(options, option{
			candidate: i, value: value[0], sigma: at.sigma, slope: mat.NewVecDense(len(slope), slope),
			trouble: b.trouble(&candidates[i].Point),
		})
	}
	return options, nil
}

// took reports whether a row is among the readings taken, outliers too.
func (r *Result) took(at *row) bool {
	for i := range r.taken {
		if t := &r.taken[i]; t.mode == at.mode && t.stick == at.stick && t.sight == at.sight && t.gauge == at.gauge {
			return true
		}
	}
	return false
}

// Sticks and bearings that a plan is for, and that candidates are taken from.
var (
	planSticks = []pitch.Stick{
		{Collective: 0}, {Collective: 0.25}, {Collective: 0.5}, {Collective: 0.75}, {Collective: 1},
		{Collective: 0.5, Right: 0.5}, {Collective: 0.5, Right: -0.5},
		{Collective: 0.5, Forward: 0.5}, {Collective: 0.5, Forward: -0.5},
		{Collective: 0.5, Right: 1}, {Collective: 0.5, Right: -1},
		{Collective: 0.5, Forward: 1}, {Collective: 0.5, Forward: -1},
	}
	planBearings = []units.Angle{0, 90 * units.Degree, 180 * units.Degree, 270 * units.Degree}
)

// Candidates returns the readings that Next chooses from: with every gauge, in all modes
// that work, with the collective stick at its quarters, and with the cyclic stick at half
// and full to each side while the collective stick is at the middle. Blades stand at the
// nose, the tail and both sides.
func (b *Session) Candidates() []Candidate {
	var all []Candidate
	for i := range b.gauges {
		for _, s := range b.everywhere(b.gauges[i].Measures...) {
			all = append(all, Candidate{s, b.gauges[i].Name})
		}
	}
	return all
}

// everywhere returns the points of some quantities that a plan looks at.
func (b *Session) everywhere(of ...Quantity) []Point {
	m := b.model
	var all []Point
	for _, mode := range m.rig.Modes() {
		if !mode.Works() {
			continue
		}
		for _, stick := range planSticks {
			for _, q := range of {
				s := Point{Of: q, Mode: mode.Name(), Stick: stick}
				switch q {
				case BladePitch:
					for s.Blade = range m.blades {
						for k := range planBearings {
							s.Bearing = &planBearings[k]
							all = append(all, s)
						}
					}
				case ArmAngle:
					for s.Servo = range m.mounts {
						all = append(all, s)
					}
				default:
					all = append(all, s)
				}
			}
		}
	}
	return all
}

// goal returns the matrix whose trace with the covariance is the mean variance of blade
// pitch over the sticks. The error is that of a build that cannot get there.
func (f *fit) goal() (*mat.SymDense, error) {
	goal := mat.NewSymDense(len(f.x), nil)
	points := f.session.everywhere(BladePitch)
	for i := range points {
		_, slope, err := f.predict(&points[i])
		if err != nil {
			return nil, err
		}
		goal.SymRankOne(goal, 1/float64(len(points)), slope)
	}
	return goal, nil
}

// trace returns the trace of the product of two symmetric matrices.
func trace(a, b mat.Symmetric) float64 {
	var sum float64
	n := a.SymmetricDim()
	for i := range n {
		for j := range n {
			sum += a.At(i, j) * b.At(i, j)
		}
	}
	return sum
}

// resolution returns that of the best pitch gauge, and 0 where there is none.
func (b *Session) resolution() units.Angle {
	best := units.Angle(math.Inf(1))
	for i := range b.gauges {
		if g := &b.gauges[i]; g.measures(BladePitch) {
			best = min(best, g.Step/units.Angle(math.Sqrt(12)))
		}
	}
	if math.IsInf(float64(best), 1) {
		return 0
	}
	return best
}
