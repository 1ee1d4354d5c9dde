package pitch

import (
	"fmt"
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Solve finds the rates and the curve points that make the head do what is wanted, with the
// pitch gauge on the blade at a bearing: those that meet it exactly, within 1e-9 degree, and
// those to enter in the radio's steps. For more than one question of a head, take a Solver;
// the errors are those of NewSolver and Solver.Solve.
func (h *Head) Solve(wanted Wanted, bearing units.Angle, radio Radio) (*Solution, error) {
	s, err := NewSolver(h, bearing, radio)
	if err != nil {
		return nil, err
	}
	return s.Solve(wanted)
}

// Stepless returns the head with servos that the radio moves without pulse steps, so that
// nothing smaller than a step is hidden. The error is a *units.FieldError for a head that is
// not whole, or is that of swash.Control.WithServo.
func (h *Head) Stepless() (*Head, error) {
	switch {
	case h == nil || h.Control == nil || len(h.Control.Servos()) == 0:
		return nil, refuse("Control", "is empty; make it with swash.NewControl")
	case h.Grip == nil || h.Grip.spec.Horn == 0:
		return nil, errNoGrip
	}
	control := h.Control
	for i, s := range control.Servos() {
		s.Step = 0
		var err error
		if control, err = control.WithServo(i, s); err != nil {
			return nil, err
		}
	}
	return &Head{Control: control, Grip: h.Grip}, nil
}

// Solver answers what to enter in a radio for a wanted pitch, and what a setting gives without
// the radio's pulse steps. NewSolver makes one. It keeps working memory: each goroutine needs
// its own.
type Solver struct {
	exact   follower // without the radio's pulse steps, so that there is an exact answer to find
	stepped follower
	radio   Radio
}

var errNoSolver = refuse("solver", "is empty; make it with NewSolver")

// NewSolver returns a solver for a head, with the pitch gauge on the blade at a bearing,
// counted from the nose, clockwise seen from above. The error is a *units.FieldError.
func NewSolver(h *Head, bearing units.Angle, radio Radio) (*Solver, error) {
	exact, err := h.Stepless()
	if err != nil {
		return nil, err
	}
	if !units.Finite(bearing) {
		return nil, refuse("bearing", "must be finite, not %v", bearing)
	}
	if err := radio.validate(); err != nil {
		return nil, err
	}
	return &Solver{
		exact:   follower{head: *exact, gauge: bearing, state: exact.Control.NewState()},
		stepped: follower{head: *h, gauge: bearing, state: exact.Control.NewState()},
		radio:   radio,
	}, nil
}

// Reading returns what the gauge shows for a setting at a stick position, without the radio's
// pulse steps. The errors are those of Setting.Demand and Head.Blade, and a *swash.LegError
// where a servo reaches its pulse limit.
func (s *Solver) Reading(setting Setting, at Stick) (units.Angle, error) {
	if s == nil || s.exact.state == nil {
		return 0, errNoSolver
	}
	return s.exact.readAt(setting, at)
}

// Added returns the pitch that a stick position adds to that with the cyclic stick centred,
// without the radio's pulse steps. The errors are as those of Reading.
func (s *Solver) Added(setting Setting, at Stick) (Cyclic, error) {
	if s == nil || s.exact.state == nil {
		return Cyclic{}, errNoSolver
	}
	return s.exact.adds(setting, at)
}

// Demand returns the scaled demand of collective at which the gauge shows a target, without the
// radio's pulse steps; the stick is of no account but for the words of an error. The error is a
// *TargetError for a pitch out of reach, a *units.FieldError for one that is out of range, or
// what keeps the head from a demand of zero.
func (s *Solver) Demand(target Target) (float64, error) {
	switch {
	case s == nil || s.exact.state == nil:
		return 0, errNoSolver
	case !(math.Abs(target.Pitch.Degrees()) < 90):
		return 0, refuse("target.Pitch", "must be between -90° and 90°, not %v", target.Pitch)
	}
	return s.exact.collective(target)
}

// Solve is Head.Solve. The error is a *units.FieldError whose Field tells which part of
// what is wanted is at fault, as in "wanted.Collective[1]". Its cause is a *TargetError where
// that is out of reach. A rate beyond the radio's limit is no error: look at Enter.Rates.
func (s *Solver) Solve(wanted Wanted) (*Solution, error) {
	if s == nil || s.exact.state == nil {
		return nil, errNoSolver
	}
	if err := wanted.Validate(); err != nil {
		return nil, err
	}
	demands := make([]float64, len(wanted.Collective))
	var largest float64
	for i, target := range wanted.Collective {
		d, err := s.exact.collective(target)
		if err != nil {
			return nil, unsolved(fmt.Sprintf("wanted.Collective[%d]", i), err)
		}
		demands[i] = d
		largest = math.Max(largest, math.Abs(d))
	}
	solution := &Solution{}
	if err := s.collectiveRate(solution, wanted, demands, largest); err != nil {
		return nil, unsolved("wanted.Collective", err)
	}
	rates := &solution.Exact.Rates
	middle := solution.Exact.Pitch.At(0.5) * float64(rates.Collective)
	for _, f := range []struct {
		field, name string
		want        units.Angle
		unit        swash.Demand
		rate        *units.Ratio
	}{
		{"wanted.Right", "right", wanted.Right, swash.Demand{Right: 1}, &rates.Right},
		{"wanted.Forward", "forward", wanted.Forward, swash.Demand{Forward: 1}, &rates.Forward},
	} {
		rate, err := s.exact.cyclic(f.name, f.want, middle, f.unit)
		if err != nil {
			return nil, unsolved(f.field, err)
		}
		*f.rate = units.Ratio(rate)
	}
	s.cyclicRates(solution, wanted)
	if err := s.enter(solution, wanted); err != nil {
		return nil, unsolved("wanted", err)
	}
	return solution, nil
}

// unsolved returns err as that of a part of what is wanted.
func unsolved(field string, err error) error {
	return &units.FieldError{Field: field, Words: "pitch:", Reason: because(err), Err: err}
}

// entering is a collective rate, and the curve that gives the demands under it: exact, and
// with its points in the radio's steps.
type entering struct {
	rate           float64
	exact, entered *curve.Curve
	off            float64 // the error of the worst point as entered
	whole          bool    // the exact points are in whole steps already
}

// entering returns what a rate gives. Each point is rounded to the step nearest to it, or,
// where neighbours are tried, to that of the two beside it that reads nearer to its target.
func (s *Solver) entering(want Wanted, demands []float64, rate float64, neighbours bool) (e entering, err error) {
	e.rate, e.whole = rate, true
	points := make([]curve.Point, len(demands))
	for i, d := range demands {
		points[i] = curve.Point{X: float64(want.Collective[i].Stick), Y: clamp(d/rate, -1, 1)}
	}
	if e.exact, err = curve.New(want.Kind, points); err != nil {
		return e, err
	}
	for i := range points {
		exact := points[i].Y
		var off float64
		points[i].Y, off = s.nearest(exact, 1, neighbours, func(y float64) (units.Angle, error) {
			p, err := s.stepped.reading(swash.Demand{Collective: y * rate})
			return p - want.Collective[i].Pitch, err
		})
		e.off = math.Max(e.off, off)
		e.whole = e.whole && math.Abs(points[i].Y-exact) < sameStep
	}
	e.entered, err = curve.New(want.Kind, points)
	return e, err
}

// extreme returns the largest amount of the curves' values.
func (e *entering) extreme() float64 { return math.Max(extreme(e.exact), extreme(e.entered)) }

// collectiveRate puts the collective rate and the curves into a solution. The rate is in
// whole steps of the radio: the least under which the curve keeps within its range, or up
// to ten steps and a tenth more, whichever lets the worst point read nearest to its target.
// A curve that is in whole steps under the least stays as it is.
// A smooth curve may run beyond its points: a higher rate brings it in.
func (s *Solver) collectiveRate(solution *Solution, want Wanted, demands []float64, largest float64) error {
	const rounding = 1e-10 // of a step, so that a demand of a whole step stays one
	step := float64(s.radio.PercentStep)
	least := math.Max(math.Ceil(largest/step-rounding), 1)
	best, err := s.entering(want, demands, least*step, false)
	for err == nil && best.extreme() > 1 {
		least = math.Max(math.Ceil(least*best.extreme()), least+1)
		best, err = s.entering(want, demands, least*step, false)
	}
	if err != nil {
		return err
	}
	for n := least; !best.whole && n <= least+math.Min(10, least/10); n++ {
		if n > least && units.Ratio(n*step) > s.radio.RateLimit {
			break
		}
		e, err := s.entering(want, demands, n*step, true)
		if err != nil {
			return err
		}
		if e.off < best.off-float64(swash.Level) && e.extreme() <= 1 {
			best = e
		}
	}
	rates := swash.Rates{Collective: units.Ratio(best.rate)}
	solution.Exact = Setting{Pitch: best.exact, Expo: want.Expo, Rates: rates}
	solution.Entered = Setting{Pitch: best.entered, Expo: want.Expo, Rates: rates}
	return nil
}

// cyclicRates puts the cyclic rates of a solution, in the radio's steps, into what is entered.
func (s *Solver) cyclicRates(solution *Solution, want Wanted) {
	exact, entered := &solution.Exact.Rates, &solution.Entered.Rates
	for i, f := range []struct {
		exact units.Ratio
		rate  *units.Ratio
	}{{exact.Right, &entered.Right}, {exact.Forward, &entered.Forward}} {
		most := s.radio.RateLimit
		if math.Abs(float64(f.exact)) > float64(most) {
			most = units.Ratio(math.Inf(1))
		}
		rate, _ := s.nearest(float64(f.exact), float64(most), true, func(rate float64) (units.Angle, error) {
			*f.rate = units.Ratio(rate)
			added, err := s.stepped.adds(solution.Entered, FullCyclic()[i])
			return added.Amplitude() - size(want.cyclic()[i]), err
		})
		*f.rate = units.Ratio(rate)
	}
}

// sameStep is the difference of two values below which they are the same step of the radio.
const sameStep = 1e-9

// nearest rounds a value to the radio's percent steps, within most to either side: to the
// nearest step, or to one beside it where that one is off by less. A value in whole steps
// stays. Nearest returns by how much the rounded one is off: by no end where by fails.
func (s *Solver) nearest(x, most float64, neighbours bool, by func(float64) (units.Angle, error)) (rounded, off float64) {
	step := float64(s.radio.PercentStep)
	whole := math.RoundToEven(x / step)
	if math.Abs(whole*step) > most { // steps that do not divide 100 %
		whole -= math.Copysign(1, whole)
	}
	at := func(n float64) float64 {
		y := n * step
		if a, err := by(y); err == nil && math.Abs(y) <= most {
			return math.Abs(float64(a))
		}
		return math.Inf(1)
	}
	rounded, off = whole*step, at(whole)
	if !neighbours || math.Abs(rounded-x) < sameStep {
		return rounded, off
	}
	for _, n := range []float64{whole - 1, whole + 1} {
		if o := at(n); o < off-float64(swash.Level) {
			rounded, off = n*step, o
		}
	}
	return rounded, off
}

// enter says what of a solution is to be entered, and reads the gauge for both.
func (s *Solver) enter(solution *Solution, want Wanted) error {
	exact, entered := s.exact, s.stepped
	exact.beyond, entered.beyond = true, true
	solution.Enter.Rates = solution.Entered.Rates
	for i, p := range solution.Entered.Pitch.Points() {
		solution.Enter.Points = append(solution.Enter.Points, [2]units.Ratio{want.Collective[i].Stick, units.Ratio(p.Y)})
	}
	var err error
	for _, target := range want.Collective {
		reading := SolvedReading{Target: target}
		at := Stick{Collective: float64(target.Stick)}
		if reading.Exact, err = exact.readAt(solution.Exact, at); err != nil {
			return err
		}
		if reading.Entered, err = entered.readAt(solution.Entered, at); err != nil {
			return err
		}
		solution.Readings = append(solution.Readings, reading)
	}
	for i, full := range FullCyclic() {
		reading := CyclicReading{Stick: full.Cyclic(), Wanted: size(want.cyclic()[i])}
		for _, by := range []struct {
			follower
			setting Setting
			to      *units.Angle
		}{{exact, solution.Exact, &reading.Exact}, {entered, solution.Entered, &reading.Entered}} {
			added, err := by.adds(by.setting, full)
			if err != nil {
				return err
			}
			*by.to = added.Amplitude()
		}
		solution.Cyclic = append(solution.Cyclic, reading)
	}
	return nil
}

// curveSamples is how finely a curve is looked at between its points.
const curveSamples = 400

// extreme returns the largest amount of a curve's value over the stick.
func extreme(c *curve.Curve) float64 {
	var most float64
	for i := range curveSamples + 1 {
		most = math.Max(most, math.Abs(c.At(float64(i)/curveSamples)))
	}
	return most
}

func size(a units.Angle) units.Angle { return units.Angle(math.Abs(float64(a))) }
