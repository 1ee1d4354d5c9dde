package gauge

import (
	"context"
	"iter"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// Outcome is how the builds of a study come out. All of it but the counts is of the builds
// that work.
type Outcome struct {
	Parameters []Parameter // in the order of the shares in all budgets
	At         []StickOutcome

	// The worst of each build over the sticks.
	Tilt     Extreme // amount of the swashplate's tilt; the limit is the rig's, which is meant for a centred cyclic stick
	Pitch    Extreme // of any blade, how far off what the file says, up or down; the limit is one step of the file's gauge
	Tracking Extreme // the largest pitch of a blade minus the smallest; the limit is one step of the file's gauge

	Builds      int         // that work
	Unassembled int         // that cannot be put together
	Unreachable int         // that cannot get to a position of the sticks
	First       *BuildError // of the first build that does not work; nil where all do
}

// StickOutcome is how the builds come out at one position of the sticks.
type StickOutcome struct {
	Stick pitch.Stick
	// FilePitch is the pitch of all blades by the file, and FileTilt the amount of the plate's
	// tilt.
	FilePitch, FileTilt units.Angle

	Pitch    []Spread // of each blade, minus FilePitch
	Tilt     Spread   // its amount
	Tracking Spread   // the largest pitch of a blade minus the smallest

	PitchBudget []Budget // of each blade
	TiltBudget  Budget
}

// Spread is a distribution over the builds.
type Spread struct {
	Mean, SD  units.Angle
	Quantiles [5]units.Angle // at Levels
}

// Levels returns the shares of builds below the quantiles of a Spread: those of a normal
// spread are about 2, 1, 0, 1 and 2 standard deviations from its mean.
func Levels() [5]float64 { return [...]float64{0.025, 0.16, 0.5, 0.84, 0.975} }

// Extreme is a distribution over the builds, compared with a limit.
type Extreme struct {
	Spread
	Limit units.Angle
	Over  units.Ratio // share of builds beyond the limit
}

// outcome looks at what was sampled.
func (v *survey) outcome(ctx context.Context) (*Outcome, error) {
	o := &Outcome{Parameters: v.params, At: make([]StickOutcome, len(v.places))}
	if err := v.keep(o); err != nil {
		return nil, err
	}
	reg, err := newRegression(v.off)
	if err != nil {
		return nil, err
	}
	err = v.each(ctx, len(v.places), func(places iter.Seq[int]) error {
		column := make([]float64, o.Builds)
		for i := range places {
			o.At[i] = v.at(i, column, reg)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	v.extremes(o)
	return o, nil
}

// keep counts the builds that do not work, and takes them out of the columns.
func (v *survey) keep(o *Outcome) error {
	for _, err := range v.errs {
		switch {
		case err == nil:
			o.Builds++
			continue
		case err.Stick == nil:
			o.Unassembled++
		default:
			o.Unreachable++
		}
		if o.First == nil {
			o.First = err
		}
	}
	if o.Builds < fewestBuilds {
		return &StudyError{Builds: v.study.Builds, Work: o.Builds, First: o.First}
	}
	for _, columns := range append(v.shown, v.off) {
		for i := range columns {
			columns[i] = v.works(columns[i])
		}
	}
	return nil
}

// works returns the elements of a column that are of builds that work, in its place.
func (v *survey) works(column []float64) []float64 {
	n := 0
	for k, err := range v.errs {
		if err == nil {
			column[n] = column[k]
			n++
		}
	}
	return column[:n]
}

// at returns how the builds come out at place i. It uses column.
func (v *survey) at(i int, column []float64, reg *regression) StickOutcome {
	blades := v.model.blades
	file := v.file[i]
	o := StickOutcome{
		Stick:      v.places[i].stick,
		FilePitch:  units.Angle(file[0]),
		FileTilt:   units.Angle(math.Hypot(file[blades], file[blades+1])),
		TiltBudget: v.budget(i, []int{blades, blades + 1}, reg),
	}
	for blade := range blades {
		for k := range column {
			column[k] = v.pitchOff(i, blade, k)
		}
		o.Pitch = append(o.Pitch, spreadOf(column))
		o.PitchBudget = append(o.PitchBudget, v.budget(i, []int{blade}, reg))
	}
	for k := range column {
		column[k] = v.tilt(i, k)
	}
	o.Tilt = spreadOf(column)
	for k := range column {
		column[k] = v.tracking(i, k)
	}
	o.Tracking = spreadOf(column)
	return o
}

// pitchOff returns the pitch of a blade of build k at place i, minus what the file says.
func (v *survey) pitchOff(i, blade, k int) float64 { return v.shown[i][blade][k] - v.file[i][blade] }

// tilt returns the amount by which the plate of build k tilts at place i.
func (v *survey) tilt(i, k int) float64 {
	blades := v.model.blades
	return math.Hypot(v.shown[i][blades][k], v.shown[i][blades+1][k])
}

// tracking returns the largest pitch of a blade of build k at place i minus the smallest.
func (v *survey) tracking(i, k int) float64 {
	least, most := math.Inf(1), math.Inf(-1)
	for _, pitch := range v.shown[i][:v.model.blades] {
		least, most = min(least, pitch[k]), max(most, pitch[k])
	}
	return most - least
}

// extremes looks at the worst of each build over the sticks.
func (v *survey) extremes(o *Outcome) {
	rig := v.model.rig
	for _, e := range []struct {
		to    *Extreme
		limit units.Angle
		at    func(i, k int) float64
	}{
		{&o.Tilt, rig.Limits().Tilt, v.tilt},
		{&o.Pitch, rig.Gauge().Step, func(i, k int) float64 {
			var most float64
			for blade := range v.model.blades {
				most = max(most, math.Abs(v.pitchOff(i, blade, k)))
			}
			return most
		}},
		{&o.Tracking, rig.Gauge().Step, v.tracking},
	} {
		column := make([]float64, o.Builds)
		over := 0
		for k := range column {
			for i := range v.places {
				column[k] = max(column[k], e.at(i, k))
			}
			if column[k] > float64(e.limit) {
				over++
			}
		}
		*e.to = Extreme{spreadOf(column), e.limit, units.Ratio(over) / units.Ratio(o.Builds)}
	}
}

// spreadOf returns the distribution of a column, and sorts it.
func spreadOf(column []float64) Spread {
	mean, sd := stat.MeanStdDev(column, nil)
	s := Spread{Mean: units.Angle(mean), SD: units.Angle(sd)}
	slices.Sort(column)
	for i, level := range Levels() {
		s.Quantiles[i] = units.Angle(stat.Quantile(level, stat.LinInterp, column, nil))
	}
	return s
}
