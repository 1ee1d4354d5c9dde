package setup

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/pitch/machine"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Solution is what meets a mode's targets exactly at the blade, without radio steps, and
// what comes nearest to that in the radio's whole steps. The collective rate is the least
// that holds the curve, or a little more where the points then read nearer to their
// targets. On the machines of examples/demo the worst point reads 0.01° to 0.04° off, and
// 0.07° in one mode of a radio with pulse steps of 2 µs (0.13° of pitch).
type Solution struct {
	Exact    pitch.Setting   `json:"-"`
	Entered  pitch.Setting   `json:"-"` // rounded to the radio's percent steps, as Enter says
	Enter    Entry           `json:"enter"`
	Readings []SolvedReading `json:"readings"`        // at the collective targets
	Cyclic   []CyclicReading `json:"cyclic_readings"` // at the cyclic target, right and forward
}

// Entry is a solution in the radio's percent steps: what to type in.
type Entry struct {
	Rates  swash.Rates      `json:"rates"`
	Points [][2]units.Ratio `json:"points"` // stick position and value of the pitch curve
}

// SolvedReading is what the gauge shows at a target's stick position.
type SolvedReading struct {
	Target  machine.Target `json:"target"`
	Exact   units.Angle    `json:"exact"`   // by the exact values, radio steps aside
	Entered units.Angle    `json:"entered"` // by the rounded values, with the radio's pulse steps
}

// CyclicReading is the cyclic pitch that a full stick adds at mid collective stick.
type CyclicReading struct {
	Stick   string      `json:"stick"` // full right or full forward
	Wanted  units.Angle `json:"wanted"`
	Exact   units.Angle `json:"exact"`   // by the exact values, radio steps aside
	Entered units.Angle `json:"entered"` // by the rounded values, with the radio's pulse steps
}

// TargetError reports a target that the machine cannot give.
type TargetError struct {
	What    string      // which target, such as "pitch at stick 100 %"
	Wanted  units.Angle // on the gauge
	Nearest units.Angle // the nearest the machine comes
	Cause   string      // what stops it there, in a few words
	Err     error       // the same as an error
}

func (e *TargetError) Error() string {
	s := fmt.Sprintf("%s: %.2f° is out of reach by %.2f°; the machine comes to %.2f° and no nearer",
		e.What, e.Wanted.Degrees(), math.Abs((e.Wanted - e.Nearest).Degrees()), e.Nearest.Degrees())
	if e.Cause != "" {
		s += " (" + e.Cause + ")"
	}
	return s
}

func (e *TargetError) Unwrap() error { return e.Err }

// wanted is what a solution is to meet at the blade.
type wanted struct {
	kind       curve.Kind // of the pitch curve
	expo       curve.Expo
	collective []machine.Target
	// cyclic is what full right and full forward stick add at mid collective
	// stick, as amplitudes; below 0 reverses the control.
	cyclic [2]units.Angle
}

// solve finds the rates and curve points that meet a mode's targets, or says why there
// are none: as a *FieldError.
func (r *Rig) solve(path string, mode *machine.Mode) (*Solution, error) {
	t := mode.Targets
	s, err := r.newSolver()
	if err != nil {
		return nil, err
	}
	solution, part, err := s.meet(wanted{t.Kind, curve.Expo(mode.Expo), t.Collective, [2]units.Angle{t.Cyclic, t.Cyclic}})
	if err != nil {
		path += part
		if out := (*TargetError)(nil); errors.As(err, &out) {
			return nil, blame(r.file, path, err)
		}
		return nil, r.file.Fault(path, r.Cause(err), err)
	}
	return solution, nil
}

// meet finds the rates and curve points that give what is wanted. With an error
// comes the part of the targets that is at fault, as the end of a field's path.
func (s *solver) meet(want wanted) (solution *Solution, part string, err error) {
	demands := make([]float64, len(want.collective))
	var largest float64
	for i, target := range want.collective {
		d, err := s.collective(target)
		if err != nil {
			return nil, fmt.Sprintf(".collective[%d]", i), err
		}
		demands[i] = d
		largest = math.Max(largest, math.Abs(d))
	}
	solution = &Solution{}
	if err := s.collectiveRate(solution, want, demands, largest); err != nil {
		return nil, ".collective", err
	}
	rates := &solution.Exact.Rates
	middle := solution.Exact.Pitch.At(0.5) * float64(rates.Collective)
	for i, f := range []struct {
		name string
		unit swash.Demand
		rate *units.Ratio
	}{
		{"right", swash.Demand{Right: 1}, &rates.Right},
		{"forward", swash.Demand{Forward: 1}, &rates.Forward},
	} {
		rate, err := s.cyclic(f.name, want.cyclic[i], middle, f.unit)
		if err != nil {
			return nil, ".cyclic", err
		}
		*f.rate = units.Ratio(rate)
	}
	s.cyclicRates(solution, want)
	if err := s.enter(solution, want); err != nil {
		return nil, "", err
	}
	return solution, "", nil
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
func (s *solver) entering(want wanted, demands []float64, rate float64, neighbours bool) (e entering, err error) {
	e.rate, e.whole = rate, true
	points := make([]curve.Point, len(demands))
	for i, d := range demands {
		points[i] = curve.Point{X: float64(want.collective[i].Stick), Y: math.Min(math.Max(d/rate, -1), 1)}
	}
	if e.exact, err = curve.New(want.kind, points); err != nil {
		return e, err
	}
	for i := range points {
		exact := points[i].Y
		var off float64
		points[i].Y, off = s.nearest(exact, 1, neighbours, func(y float64) (units.Angle, error) {
			p, err := s.stepped.reading(swash.Demand{Collective: y * rate})
			return p - want.collective[i].Pitch, err
		})
		e.off = math.Max(e.off, off)
		e.whole = e.whole && math.Abs(points[i].Y-exact) < sameStep
	}
	e.entered, err = curve.New(want.kind, points)
	return e, err
}

// extreme returns the largest amount of the curves' values.
func (e *entering) extreme() float64 { return math.Max(extreme(e.exact), extreme(e.entered)) }

// collectiveRate puts the collective rate and the curves into a solution. The rate is in
// whole steps of the radio: the least under which the curve keeps within its range, or up
// to ten steps and a tenth more, whichever lets the worst point read nearest to its target.
// A curve that is in whole steps under the least stays as it is. A smooth curve may run beyond its points: a higher rate brings it in.
func (s *solver) collectiveRate(solution *Solution, want wanted, demands []float64, largest float64) error {
	const rounding = 1e-10 // of a step, so that a demand of a whole step stays one
	step := float64(s.rig.file.Radio.PercentStep)
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
		if n > least && units.Ratio(n*step) > s.rig.RateLimit() {
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
	solution.Exact = pitch.Setting{Pitch: best.exact, Expo: want.expo, Rates: rates}
	solution.Entered = pitch.Setting{Pitch: best.entered, Expo: want.expo, Rates: rates}
	return nil
}

// cyclicRates puts the cyclic rates of a solution, in the radio's steps, into what is entered.
func (s *solver) cyclicRates(solution *Solution, want wanted) {
	exact, entered := &solution.Exact.Rates, &solution.Entered.Rates
	for i, f := range []struct {
		exact units.Ratio
		rate  *units.Ratio
	}{{exact.Right, &entered.Right}, {exact.Forward, &entered.Forward}} {
		most := s.rig.RateLimit()
		if math.Abs(float64(f.exact)) > float64(most) {
			most = units.Ratio(math.Inf(1))
		}
		rate, _ := s.nearest(float64(f.exact), float64(most), true, func(rate float64) (units.Angle, error) {
			*f.rate = units.Ratio(rate)
			added, err := s.stepped.adds(&solution.Entered, pitch.FullCyclic()[i])
			return added.Amplitude() - size(want.cyclic[i]), err
		})
		*f.rate = units.Ratio(rate)
	}
}

// sameStep is the difference of two values below which they are the same step of the radio.
const sameStep = 1e-9

// nearest rounds a value to the radio's percent steps, within most to either side: to the
// nearest step, or to one beside it where that one is off by less. A value in whole steps
// stays. Nearest returns by how much the rounded one is off: by no end where by fails.
func (s *solver) nearest(x, most float64, neighbours bool, by func(float64) (units.Angle, error)) (rounded, off float64) {
	step := float64(s.rig.file.Radio.PercentStep)
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

func (r *Rig) validTargets(path string, t *machine.Targets) error {
	if len(t.Collective) < 2 {
		return fail(r.file, path+".collective", "must have two targets or more, not %d", len(t.Collective))
	}
	for i, target := range t.Collective {
		at := fmt.Sprintf("%s.collective[%d]", path, i)
		if !(target.Stick >= 0 && target.Stick <= 1) {
			return fail(r.file, at+".stick", "must be within 0 %% and 100 %%, not %v", target.Stick)
		}
		if !(math.Abs(target.Pitch.Degrees()) < 90) {
			return fail(r.file, at+".pitch", "must be between -90° and 90°, not %v", target.Pitch)
		}
		if i > 0 && !(target.Stick > t.Collective[i-1].Stick) {
			return fail(r.file, at+".stick", "must be more than that of the target before, %v, not %v", t.Collective[i-1].Stick, target.Stick)
		}
	}
	if !(t.Cyclic >= 0 && t.Cyclic.Degrees() < 90) {
		return fail(r.file, path+".cyclic", "must be 0° or more and below 90°, not %v", t.Cyclic)
	}
	return nil
}

// enter says what of a solution is to be entered, and reads the gauge for both.
func (s *solver) enter(solution *Solution, want wanted) error {
	solution.Enter.Rates = solution.Entered.Rates
	for i, p := range solution.Entered.Pitch.Points() {
		solution.Enter.Points = append(solution.Enter.Points, [2]units.Ratio{want.collective[i].Stick, units.Ratio(p.Y)})
	}
	var err error
	for _, target := range want.collective {
		reading := SolvedReading{Target: target}
		at := pitch.Stick{Collective: float64(target.Stick)}
		if reading.Exact, err = readAt(solution.Exact, at, s.reading); err != nil {
			return err
		}
		if reading.Entered, err = readAt(solution.Entered, at, s.rig.reading); err != nil {
			return err
		}
		solution.Readings = append(solution.Readings, reading)
	}
	for i, full := range pitch.FullCyclic() {
		reading := CyclicReading{Stick: full.Cyclic(), Wanted: size(want.cyclic[i])}
		if reading.Exact, err = added(&s.head, &solution.Exact, full); err != nil {
			return err
		}
		if reading.Entered, err = added(s.rig.head, &solution.Entered, full); err != nil {
			return err
		}
		solution.Cyclic = append(solution.Cyclic, reading)
	}
	return nil
}

// added returns the cyclic pitch that a stick position adds to that with the cyclic
// stick centred, as an amplitude.
func added(head *pitch.Head, setting *pitch.Setting, at pitch.Stick) (units.Angle, error) {
	with, err := cyclicAt(head, setting, at)
	if err != nil {
		return 0, err
	}
	without, err := cyclicAt(head, setting, pitch.Stick{Collective: at.Collective})
	return beyond(with, without).Amplitude(), err
}

func cyclicAt(head *pitch.Head, setting *pitch.Setting, at pitch.Stick) (pitch.Cyclic, error) {
	d, err := setting.Demand(at)
	if err != nil {
		return pitch.Cyclic{}, err
	}
	pose, err := head.Control.Pose(head.Control.NewState(), d)
	if err != nil {
		return pitch.Cyclic{}, err
	}
	rev, err := head.Grip.Revolution(pose)
	return rev.Cyclic, err
}

// readAt returns what read shows for a setting at a stick position.
func readAt(setting pitch.Setting, at pitch.Stick, read func(swash.Demand) (units.Angle, error)) (units.Angle, error) {
	d, err := setting.Demand(at)
	if err != nil {
		return 0, err
	}
	return read(d)
}

// reading returns what the gauge shows for a scaled demand.
func (r *Rig) reading(d swash.Demand) (units.Angle, error) {
	p, _, err := r.head.Blade(r.head.Control.NewState(), r.file.Gauge.Bearing, d)
	return p, err
}

// solver is a rig whose servos move without steps, so that there is an exact
// answer to find.
type solver struct {
	rig   *Rig
	head  pitch.Head
	gauge units.Angle
	state *swash.State
	// stepped is the same with the radio's pulse steps; nil in itself.
	stepped *solver
}

func (r *Rig) newSolver() (*solver, error) {
	exact, err := r.Exact()
	if err != nil {
		return nil, err
	}
	solver := func(head *pitch.Head, stepped *solver) *solver {
		return &solver{r, *head, r.file.Gauge.Bearing, head.Control.NewState(), stepped}
	}
	return solver(exact, solver(r.head, nil)), nil
}

// Exact returns the head with servos that the radio moves without steps, so that nothing
// smaller than a step is hidden. The errors are those of swash.Control.WithServo.
func (r *Rig) Exact() (*pitch.Head, error) {
	if !r.built() {
		return nil, errNotBuilt
	}
	control := r.head.Control
	for i, s := range control.Servos() {
		s.Step = 0
		var err error
		if control, err = control.WithServo(i, s); err != nil {
			return nil, err
		}
	}
	return &pitch.Head{Control: control, Grip: r.head.Grip}, nil
}

// reading returns what the gauge shows; a servo at its pulse limit is an error.
func (s *solver) reading(d swash.Demand) (units.Angle, error) {
	p, _, err := s.head.Blade(s.state, s.gauge, d)
	if err != nil {
		return 0, err
	}
	return p, s.state.Limited()
}

// collective returns the demand at which the gauge shows a target.
func (s *solver) collective(t machine.Target) (float64, error) {
	what := fmt.Sprintf("pitch at stick %v", t.Stick)
	return s.find(what, t.Pitch, func(d float64) (units.Angle, error) {
		return s.reading(swash.Demand{Collective: d})
	})
}

// cyclic returns the demand along unit at which the once-per-revolution pitch
// differs by want from that without cyclic, at a collective demand.
func (s *solver) cyclic(name string, want units.Angle, collective float64, unit swash.Demand) (float64, error) {
	at := func(d float64) (pitch.Cyclic, error) {
		return s.revolution(swash.Demand{Collective: collective, Right: d * unit.Right, Forward: d * unit.Forward})
	}
	centre, err := at(0)
	if err != nil {
		return 0, err
	}
	return s.find("cyclic pitch at full "+name, want, func(d float64) (units.Angle, error) {
		c, err := at(d)
		return units.Angle(math.Copysign(float64(beyond(c, centre).Amplitude()), d)), err
	})
}

// revolution returns the parts of the blade's pitch over a revolution; a servo
// at its pulse limit is an error.
func (s *solver) revolution(d swash.Demand) (pitch.Cyclic, error) {
	pose, err := s.head.Control.Pose(s.state, d)
	if err != nil {
		return pitch.Cyclic{}, err
	}
	if err := s.state.Limited(); err != nil {
		return pitch.Cyclic{}, err
	}
	rev, err := s.head.Grip.Revolution(pose)
	return rev.Cyclic, err
}

// adds returns what a stick position adds to that with the cyclic stick centred; a
// servo at its pulse limit is an error.
func (s *solver) adds(setting *pitch.Setting, at pitch.Stick) (pitch.Cyclic, error) {
	var parts [2]pitch.Cyclic
	for i, stick := range []pitch.Stick{{Collective: at.Collective}, at} {
		d, err := setting.Demand(stick)
		if err != nil {
			return pitch.Cyclic{}, err
		}
		if parts[i], err = s.revolution(d); err != nil {
			return pitch.Cyclic{}, err
		}
	}
	return beyond(parts[1], parts[0]), nil
}

// beyond returns the parts of c minus those of centre: what the cyclic stick adds.
func beyond(c, centre pitch.Cyclic) pitch.Cyclic {
	return pitch.Cyclic{
		Collective: c.Collective - centre.Collective,
		Cosine:     c.Cosine - centre.Cosine,
		Sine:       c.Sine - centre.Sine,
	}
}

// find returns the demand at which f gives want. It steps out from 0 to either side,
// first to the one that comes nearer, to where f passes want, and refines there.
func (s *solver) find(what string, want units.Angle, f func(float64) (units.Angle, error)) (float64, error) {
	here, err := f(0)
	if err != nil {
		return 0, err
	}
	if here == want {
		return 0, nil
	}
	up, errUp := f(stride)
	first := 1.
	if errUp != nil || math.Abs(float64(up-want)) > math.Abs(float64(here-want)) {
		first = -1
	}
	d, err := s.findToward(first, what, want, here, f)
	if err == nil {
		return d, nil
	}
	d, other := s.findToward(-first, what, want, here, f)
	if other == nil {
		return d, nil
	}
	return 0, nearer(err, other)
}

// nearer returns the error whose target was come nearer to.
func nearer(a, b error) error {
	var x, y *TargetError
	if errors.As(a, &x) && errors.As(b, &y) && math.Abs(float64(y.Nearest-y.Wanted)) < math.Abs(float64(x.Nearest-x.Wanted)) {
		return b
	}
	return a
}

const (
	stride   = 1. / 32 // of a demand
	farthest = 1000.   // far beyond any servo's travel: its pulse limits come first
)

// findToward steps out from 0 in one direction, where f gives start.
func (s *solver) findToward(direction float64, what string, want, start units.Angle, f func(float64) (units.Angle, error)) (float64, error) {
	short := want > start
	nearest := start
	value := func(d float64) (float64, error) {
		p, err := f(d)
		return float64(p), err
	}
	for d := 0.; d < farthest; d += stride {
		next, err := f(direction * (d + stride))
		if err != nil {
			return s.last(what, want, value, direction*d, direction*(d+stride))
		}
		if (next >= want) == short {
			lo, hi := direction*d, direction*(d+stride)
			return curve.Invert(value, float64(want), math.Min(lo, hi), math.Max(lo, hi))
		}
		if math.Abs(float64(next-want)) < math.Abs(float64(nearest-want)) {
			nearest = next
		} else if math.Abs(float64(next-want)) > 2*math.Abs(float64(start-want)) {
			break // it goes the other way
		}
	}
	return 0, &TargetError{what, want, nearest, "", nil}
}

// last looks for want between the last demand that works and the first that
// does not: it closes in on the limit, and refines where that lies beyond want.
func (s *solver) last(what string, want units.Angle, value func(float64) (float64, error), works, fails float64) (float64, error) {
	at, err := value(works)
	if err != nil {
		return 0, err
	}
	start, from := works, at
	var cause error
	for range 60 {
		mid := (works + fails) / 2
		if v, err := value(mid); err != nil {
			fails, cause = mid, err
		} else {
			works, at = mid, v
		}
	}
	if (at >= float64(want)) != (from >= float64(want)) {
		return curve.Invert(value, float64(want), math.Min(start, works), math.Max(start, works))
	}
	return 0, &TargetError{what, want, units.Angle(at), s.rig.Cause(cause), cause}
}
