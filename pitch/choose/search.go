package choose

import (
	"fmt"
	"sync"
	"sync/atomic"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Options say how a search goes. The zero value is of use.
type Options struct {
	Objectives []Objective      // nil is all that the machine file tells, in the order of the constants
	Clip       units.PulseWidth // by which a servo may clip at the sticks' corners: for radios that limit cyclic to a circle
	Workers    int              // goroutines to work with; below 2 is none besides the caller's
	Most       int              // combinations that may be tried; 0 is DefaultMost
}

// DefaultMost is how many combinations a search tries at most where Options do not say.
const DefaultMost = 10000

// Result is a candidate put into the machine.
type Result struct {
	Candidate
	// Rig is the machine with the candidate's parts, its flight modes set for them:
	// its Sheet is the bench sheet to set it up by. Nil where it cannot be built.
	Rig  *setup.Rig
	Fits []Fit // for each servo of a leg; none on bell cranks
	Horn HornFit
	Measures
	// Unfit is what speaks against the candidate, of what is looked at; nothing where
	// nothing does: a *LimitError, *ServoError, *InputError, *setup.FieldError, or a
	// *setup.ModeError around what keeps a mode from being set, such as a *setup.TargetError. With the
	// latter, Measures have of that mode only what was found before it.
	Unfit []error
}

// Choice is the outcome of a search.
type Choice struct {
	Objectives []Objective
	Present    Result   // the machine as it is
	Results    []Result // all candidates: arms rising slowest, then teeth, balls, links and horns
	Front      []Member // by rising values of the objectives, the first counting most
}

// Search tries all combinations of what is owned on a machine. Whatever the order of
// the lists and the number of workers, the outcome is the same. The errors are a
// *InputError, *CountError or *ObjectiveError.
func Search(rig *setup.Rig, owned Owned, options Options) (*Choice, error) {
	if rig == nil {
		return nil, &InputError{"machine", -1, "is missing"}
	}
	if err := checkClip(options.Clip); err != nil {
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
	c.Present = Try(rig, Candidate{}, options.Clip)
	c.Results = make([]Result, len(candidates))
	each(len(candidates), options.Workers, func(i int) { c.Results[i] = Try(rig, candidates[i], options.Clip) })
	c.find()
	return c, nil
}

// each calls f for 0 to n-1, by so many workers.
func each(n, workers int, f func(int)) {
	if workers < 2 {
		for i := range n {
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
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		}()
	}
	wait.Wait()
}

// find finds the front among the results that nothing speaks against.
func (c *Choice) find() {
	var points [][]float64
	var results []int // whose the points are
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
}

func checkClip(clip units.PulseWidth) error {
	if !(clip >= 0) || !units.Finite(clip) {
		return &InputError{"clip", -1, fmt.Sprintf("%v is below zero or not finite", clip)}
	}
	return nil
}

// Try puts one candidate into a machine, whose servos may clip by so much at the sticks'
// corners. What speaks against it is part of the result.
func Try(rig *setup.Rig, candidate Candidate, clip units.PulseWidth) Result {
	r := Result{Candidate: candidate}
	if err := checkClip(clip); err != nil {
		r.Unfit = []error{err}
		return r
	}
	if rig == nil {
		r.Unfit = []error{&InputError{"machine", -1, "is missing"}}
		return r
	}
	var err error
	if r.Rig, r.Fits, r.Horn, err = newFitting(rig).build(&candidate); err != nil {
		r.Rig, r.Unfit = nil, []error{err}
		return r
	}
	m, err := newMeasurer(r.Rig)
	if err != nil {
		r.Unfit = []error{err}
		return r
	}
	r.Measures = none
	for i := range r.Rig.Modes {
		mode := &r.Rig.Modes[i]
		var off units.Angle
		if r.Rig != rig && mode.Mode.Targets == nil {
			if off, err = carry(setup.Setup{Rig: rig, Mode: &rig.Modes[i]}, setup.Setup{Rig: r.Rig, Mode: mode}); err != nil {
				m.unfit = append(m.unfit, err)
				continue
			}
		}
		m.take(mode, off)
		m.limits(mode.Mode.Name, clip)
		r.worst(&m.Measures)
	}
	r.Unfit = m.unfit
	return r
}

// carry sets a mode on one machine so that it gives the blade pitch that it gives on
// another, and returns by how much it is off.
func carry(from, to setup.Setup) (off units.Angle, err error) {
	t, err := from.Transfer(to.Rig, setup.TransferOptions{})
	if err != nil {
		return 0, err
	}
	to.Mode.Mode.Rates, to.Mode.Mode.Pitch, to.Mode.Setting = t.Mode.Rates, t.Mode.Pitch, t.Entered
	off = max(t.WorstEntered.Pitch, -t.WorstEntered.Pitch)
	for _, reading := range t.Cyclic {
		off = max(off, reading.Entered-reading.Wanted, reading.Wanted-reading.Entered)
	}
	return off, nil
}
