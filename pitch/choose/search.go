package choose

import (
	"context"
	"sync"
	"sync/atomic"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Options say how a search goes. The zero value is ready to use.
type Options struct {
	Objectives []Objective // nil is all that the machine file gives figures for, in the order of the constants
	// BeyondLimit is by how much a servo may have to go beyond its pulse limit at the corners
	// of the sticks. Above 0 it is for radios that limit the cyclic stick to a circle.
	BeyondLimit units.PulseWidth
	Workers     int // goroutines that work at the same time; below 2 only the caller's works
	Most        int // combinations that may be tried; 0 stands for DefaultMost
}

// DefaultMost is the largest number of combinations that a search tries if Options.Most is 0.
const DefaultMost = 10000

// Result is a candidate put into the machine.
type Result struct {
	Candidate
	// Rig is the machine with the candidate's parts, and with its flight modes set for
	// them: its File has them. sheet.Of gives the bench sheet to set it up by. Nil if it
	// cannot be built.
	Rig      *setup.Rig    `json:"-"`
	Changes  []ServoChange `json:"changes"` // for each leg; none on bell cranks
	Horn     HornChange    `json:"pitch_horn"`
	Measures `plain:"with=Rig"`
	// Unfit holds every reason found against the candidate; it is empty if none was
	// found. A reason is a *LimitError, *PulseError, *ServoError, *units.FieldError,
	// *machine.FieldError or *setup.ModeError. The last holds why a mode cannot be set, such
	// as a *setup.TargetError: then Measures have of that mode only what was found before.
	Unfit []error `json:"unfit"`
}

// Choice is what a search finds.
type Choice struct {
	Objectives []Objective `json:"objectives"`
	Present    Result      `json:"present"` // the machine as it is
	Results    []Result    `json:"results"` // all candidates: arms rising slowest, then teeth, balls, links and pitch horns
	Front      []Member    `json:"front"`   // the best trade-offs, by rising values of the objectives; the first objective counts most
}

// Search tries all combinations of the owned parts on a machine. The order of the lists and
// the number of workers do not change what it finds. The errors are a *units.FieldError,
// *CountError or *ObjectiveError, or that of ctx once it is done.
func Search(ctx context.Context, rig *setup.Rig, owned Owned, options Options) (*Choice, error) {
	if rig == nil || len(rig.Servos()) == 0 {
		return nil, refuse("rig", "must not be nil")
	}
	if err := checkBeyond(options.BeyondLimit); err != nil {
		return nil, err
	}
	most := options.Most
	if most <= 0 {
		most = DefaultMost
	}
	c := &Choice{}
	var err error
	if c.Objectives, err = chosen(options.Objectives, loaded(rig)); err != nil {
		return nil, err
	}
	candidates, err := owned.candidates(rig, most)
	if err != nil {
		return nil, err
	}
	c.Present = Try(rig, Candidate{}, options.BeyondLimit)
	c.Results = make([]Result, len(candidates))
	each(ctx, len(candidates), options.Workers, func(i int) { c.Results[i] = Try(rig, candidates[i], options.BeyondLimit) })
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	c.find()
	return c, nil
}

// each calls f for 0 to n-1, in the number of goroutines given, until ctx is done.
func each(ctx context.Context, n, workers int, f func(int)) {
	if workers < 2 {
		for i := 0; i < n && ctx.Err() == nil; i++ {
			f(i)
		}
		return
	}
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(workers, n) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				f(i)
			}
		}()
	}
	wait.Wait()
}

// find finds the front among the results without a reason against them.
func (c *Choice) find() {
	var points [][]float64
	var results []int // to which the points belong
	for i := range c.Results {
		r := &c.Results[i]
		if len(r.Unfit) > 0 {
			continue
		}
		point := make([]float64, len(c.Objectives))
		for k, o := range c.Objectives {
			point[k] = o.Of(&r.Measures)
		}
		points, results = append(points, point), append(results, i)
	}
	c.Front = members(points, front(points), c.Objectives)
	for i := range c.Front {
		c.Front[i].Index = results[c.Front[i].Index]
	}
	for _, m := range c.Front {
		for k := range m.Behind {
			b := &m.Behind[k]
			b.By = b.Objective.exact(&c.Results[m.Index].Measures) - b.Objective.exact(&c.Results[c.Front[b.Neighbour].Index].Measures)
		}
	}
}

func checkBeyond(limit units.PulseWidth) error {
	if !(limit >= 0) || !units.Finite(limit) {
		return refuse("BeyondLimit", "must be 0 µs or more and finite, not %v", limit)
	}
	return nil
}

// Try puts one candidate into a machine. At the corners of the sticks a servo may have to go
// beyond its pulse limit by as much as beyondLimit. The reasons against the candidate are in
// Result.Unfit.
func Try(rig *setup.Rig, candidate Candidate, beyondLimit units.PulseWidth) Result {
	r := Result{Candidate: candidate}
	if err := checkBeyond(beyondLimit); err != nil {
		r.Unfit = []error{err}
		return r
	}
	if rig == nil || len(rig.Servos()) == 0 {
		r.Unfit = []error{refuse("rig", "must not be nil")}
		return r
	}
	var err error
	if r.Rig, r.Changes, r.Horn, err = newBuilder(rig).build(&candidate); err != nil {
		r.Rig, r.Unfit = nil, []error{err}
		return r
	}
	m, err := newMeasurer(r.Rig)
	if err != nil {
		r.Unfit = []error{err}
		return r
	}
	r.Measures = none
	changed := r.Rig != rig
	for i := range r.Rig.Modes() {
		mode := r.Rig.Modes()[i]
		var off units.Angle
		if changed && mode.Mode().Targets == nil {
			if mode, off, err = transfer(rig.Modes()[i], mode); err != nil {
				m.unfit = append(m.unfit, err)
				continue
			}
			r.Rig = mode.Rig()
		}
		m.take(mode, off)
		m.limits(mode.Name(), beyondLimit)
		r.worst(&m.Measures)
	}
	r.Unfit = m.unfit
	return r
}

// transfer returns a mode set so that it gives the same blade pitch as on another machine, and
// by how much it is off.
func transfer(from, to setup.Setup) (entered setup.Setup, off units.Angle, err error) {
	t, err := from.Transfer(to.Rig(), setup.TransferOptions{})
	if err != nil {
		return to, 0, err
	}
	off = max(t.WorstEntered.Pitch, -t.WorstEntered.Pitch)
	for _, reading := range t.Cyclic {
		off = max(off, reading.Entered-reading.Wanted, reading.Wanted-reading.Entered)
	}
	return to.Enter(t.Entered), off, nil
}
