package gauge

import (
	"context"
	"fmt"
	"iter"
	"math"
	"math/rand/v2"
	"sync"
	"sync/atomic"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// Study asks how machines of one design come out, when each is built to the tolerances of a
// session and nothing is measured or corrected. It looks at many random builds, the
// parameters of each off independently of each other.
type Study struct {
	Mode   string        // flight mode, by its name
	Sticks []pitch.Stick // where to look; with none, the collective stick at every twentieth, cyclic centred
	// Builds is how many are looked at, from 200 to 1,000,000. In standard deviations of the
	// spread, a mean is then known to 1/√Builds, the standard deviation to 1/√(2 Builds),
	// and the outer quantiles of a normal spread to 2.7/√Builds.
	Builds int
	// Seed is that of the random numbers. Build k depends on the seed, k and the tolerances
	// alone, so that a longer study begins with the builds of a shorter one.
	Seed uint64
	// Workers is how many goroutines work, the caller's among them; 0 is the caller's
	// alone. The outcome is the same to the last bit for any number.
	Workers int
	// Cut refuses parameters that are off by more than Worst tolerances, as one who checks
	// parts does, and draws them anew.
	Cut bool
}

// Worst is how many tolerances parameters are off by in the worst case. A normal one is
// beyond with a probability of 0.27 %.
const Worst = 3

const (
	fewestBuilds = 200
	mostBuilds   = 1_000_000
	// mostNumbers bounds what a study keeps, at 8 bytes each: 400 MB.
	mostNumbers = 50_000_000
	// blockOfBuilds are worked out in one go, so that workers write to memory of their
	// own.
	blockOfBuilds = 64
)

// BuildError reports what keeps a build of a study from being put together, or from
// getting to a position of the sticks.
type BuildError struct {
	Build  int          // from 0; -1 is the file's
	Stick  *pitch.Stick // nil where it cannot be put together
	Reason string       // with the machine's own names
	Err    error        // the cause, where another package found it
}

func (e *BuildError) Error() string {
	what := "the file's build"
	if e.Build >= 0 {
		what = fmt.Sprintf("build %d", e.Build+1)
	}
	if e.Stick == nil {
		return fmt.Sprintf("gauge: %s cannot be put together: %s", what, e.Reason)
	}
	return fmt.Sprintf("gauge: %s cannot get to %v: %s", what, e.Stick, e.Reason)
}

func (e *BuildError) Unwrap() error { return e.Err }

// StudyError reports a study of which too few builds work to say anything.
type StudyError struct {
	Builds int // that were looked at
	Work   int // of those
	First  *BuildError
}

func (e *StudyError) Error() string {
	return fmt.Sprintf("gauge: only %d of %d builds work, and a study needs %d: %s", e.Work, e.Builds, fewestBuilds, bare(e.First))
}

func (e *StudyError) Unwrap() error { return e.First }

// Study looks at many random builds of the session's machine. Each blade is looked at where
// the file's gauge is read. What gauges are off by at zero does not matter.
//
// The error is a *units.FieldError for a study that cannot be made or is too large, a *BuildError
// where the file's own build cannot get to a position of the sticks, a *StudyError where
// fewer than 200 builds work, or that of ctx once it is done.
func (b *Session) Study(ctx context.Context, s Study) (*Outcome, error) {
	if b.model == nil {
		return nil, errEmpty
	}
	v, err := b.survey(&s)
	if err != nil {
		return nil, err
	}
	if err := v.sample(ctx); err != nil {
		return nil, err
	}
	return v.outcome(ctx)
}

// survey is a study under way. Its columns hold one number for each build.
type survey struct {
	model  *model
	study  Study
	params []Parameter // that are drawn: all of the model but gauges' zeros
	places []place
	sights []sight       // looked at in every place: each blade's pitch, then the tilt's two components
	file   [][]float64   // by place and sight: what the file's build shows
	slopes [][][]float64 // by place and sight: its derivatives over the parameters
	off    [][]float64   // by parameter: columns, in tolerances
	shown  [][][]float64 // by place and sight: columns
	errs   []*BuildError // a column
}

// fails returns the error of a build; see BuildError.
func (v *survey) fails(k int, stick *pitch.Stick, err error) *BuildError {
	return &BuildError{Build: k, Stick: stick, Reason: v.model.say(err), Err: err}
}

// survey checks a study and looks at the file's build.
func (b *Session) survey(s *Study) (*survey, error) {
	v := &survey{model: b.model, study: *s}
	if len(s.Sticks) == 0 {
		const steps = 20
		for k := range steps + 1 {
			v.study.Sticks = append(v.study.Sticks, pitch.Stick{Collective: float64(k) / steps})
		}
	}
	v.study.Workers = max(s.Workers, 1)
	for _, p := range b.model.params {
		if p.Kind != GaugeZero {
			v.params = append(v.params, p)
		}
	}
	columns := len(v.params) + len(v.study.Sticks)*(b.model.blades+2)
	switch {
	case s.Builds < fewestBuilds || s.Builds > mostBuilds:
		return nil, own(refuse("Builds", "must be from %d to %d, not %d", fewestBuilds, mostBuilds, s.Builds))
	case s.Workers < 0:
		return nil, own(refuse("Workers", "must be 0 or more, not %d", s.Workers))
	case columns > mostNumbers/s.Builds:
		return nil, own(refuse("Builds", "are too many: %d, with %d numbers each, make more than %d in all; ask for at most %d", s.Builds, columns, mostNumbers, mostNumbers/columns))
	}
	for _, stick := range v.study.Sticks {
		p, err := b.find(&Point{Of: BladePitch, Mode: s.Mode, Stick: stick})
		if err != nil {
			return nil, own(err)
		}
		v.places = append(v.places, p)
	}
	for blade := range b.model.blades {
		at := v.places[0].sight
		at.blade = blade
		v.sights = append(v.sights, at)
	}
	v.sights = append(v.sights, sight{of: TiltRight}, sight{of: TiltForward})
	return v, v.look()
}

// look looks at the file's build.
func (v *survey) look() error {
	b, err := v.model.newBuild()
	if err != nil {
		return v.fails(-1, nil, err)
	}
	v.file, v.slopes = make([][]float64, len(v.places)), make([][][]float64, len(v.places))
	for i := range v.places {
		at := &v.places[i]
		err := b.stand(at.at)
		if err == nil {
			err = b.effects()
		}
		for q := range v.sights {
			slope := make([]float64, len(v.model.params))
			var shown units.Angle
			if err == nil {
				shown, err = b.slope(slope, &v.sights[q])
			}
			v.file[i] = append(v.file[i], float64(shown))
			v.slopes[i] = append(v.slopes[i], slope[:len(v.params)])
		}
		if err != nil {
			return v.fails(-1, &at.stick, err)
		}
	}
	return nil
}

// sample draws the builds and looks at them.
func (v *survey) sample(ctx context.Context) error {
	n := v.study.Builds
	column := func() []float64 { return make([]float64, n) }
	for range v.params {
		v.off = append(v.off, column())
	}
	for range v.places {
		var shown [][]float64
		for range v.sights {
			shown = append(shown, column())
		}
		v.shown = append(v.shown, shown)
	}
	v.errs = make([]*BuildError, n)

	return v.each(ctx, (n+blockOfBuilds-1)/blockOfBuilds, func(blocks iter.Seq[int]) error {
		b, err := v.model.newBuild()
		if err != nil {
			return v.fails(-1, nil, err)
		}
		source := new(rand.PCG)
		chance := rand.New(source)
		x := make([]float64, len(v.model.params))
		for block := range blocks {
			first := block * blockOfBuilds
			for k := first; k < min(first+blockOfBuilds, n); k++ {
				source.Seed(v.study.Seed, uint64(k))
				for j := range v.params {
					z := v.draw(chance)
					v.off[j][k], x[j] = z, z*v.model.sd[j]
				}
				v.errs[k] = v.measure(b, k, x)
			}
		}
		return nil
	})
}

// draw returns what a parameter is off by, in tolerances.
func (v *survey) draw(chance *rand.Rand) float64 {
	z := chance.NormFloat64()
	for v.study.Cut && math.Abs(z) > Worst {
		z = chance.NormFloat64()
	}
	return z
}

// measure enters what build k, its parameters off by x, shows into the columns.
func (v *survey) measure(b *build, k int, x []float64) *BuildError {
	if err := b.set(x); err != nil {
		return v.fails(k, nil, err)
	}
	for i := range v.places {
		at := &v.places[i]
		if err := b.stand(at.at); err != nil {
			return v.fails(k, &at.stick, err)
		}
		for q := range v.sights {
			shown, err := b.value(&v.sights[q])
			if err != nil {
				return v.fails(k, &at.stick, err)
			}
			v.shown[i][q][k] = float64(shown)
		}
	}
	return nil
}

// each has the workers do jobs, each taking the next that is left until none is or ctx
// is done. It returns when all have stopped, with the error of ctx or one of theirs.
func (v *survey) each(ctx context.Context, jobs int, work func(iter.Seq[int]) error) error {
	var taken atomic.Int64
	left := func(yield func(int) bool) {
		for ctx.Err() == nil {
			if job := int(taken.Add(1)) - 1; job >= jobs || !yield(job) {
				return
			}
		}
	}
	errs := make([]error, min(v.study.Workers, jobs))
	var others sync.WaitGroup
	for i := range errs[1:] {
		others.Add(1)
		go func() {
			defer others.Done()
			errs[1+i] = work(left)
		}()
	}
	errs[0] = work(left)
	others.Wait()
	for _, err := range append(errs, ctx.Err()) {
		if err != nil {
			return err
		}
	}
	return nil
}
