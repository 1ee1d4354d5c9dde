package setup

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// Solution and its parts are those of package pitch.
type (
	Solution      = pitch.Solution
	Entry         = pitch.Entry
	SolvedReading = pitch.SolvedReading
	CyclicReading = pitch.CyclicReading
)

// TargetError reports a target that the machine cannot give.
type TargetError struct {
	*pitch.TargetError
	Cause string // what stops it there, in a few words that name the servo
}

func (e *TargetError) Error() string {
	s := fmt.Sprintf("%s: %.2f° is out of reach by %.2f°; the machine comes to %.2f° and no nearer",
		e.What, e.Wanted.Degrees(), math.Abs((e.Wanted - e.Nearest).Degrees()), e.Nearest.Degrees())
	if e.Cause != "" {
		s += " (" + e.Cause + ")"
	}
	return s
}

// Unwrap returns the error of package pitch, around what stops the machine.
func (e *TargetError) Unwrap() error { return e.TargetError }

// solve finds the rates and curve points that meet a mode's targets, or says why there
// are none: as a *FieldError.
func (r *Rig) solve(path string, mode *machine.Mode) (*Solution, error) {
	t := mode.Targets
	s, err := r.newSolver()
	if err != nil {
		return nil, err
	}
	solution, err := s.Solve(pitch.Wanted{
		Kind: t.Kind, Expo: curve.Expo(mode.Expo), Collective: t.Collective, Right: t.Cyclic, Forward: t.Cyclic,
	})
	if err != nil {
		part, err := r.unsolved(err)
		if out := (*TargetError)(nil); errors.As(err, &out) {
			return nil, blame(r.file, path+part, err)
		}
		return nil, r.file.Fault(path+part, r.Cause(err), err)
	}
	return solution, nil
}

// wantedFields are the ends of the paths of a mode's targets by the fields of a pitch.Wanted.
var wantedFields = units.FieldNames{
	"wanted.Collective":         ".collective",
	"wanted.Collective[]":       ".collective[%d]",
	"wanted.Collective[].Stick": ".collective[%d].stick",
	"wanted.Collective[].Pitch": ".collective[%d].pitch",
	"wanted.Right":              ".cyclic",
	"wanted.Forward":            ".cyclic",
}

// unsolved returns which part of the targets an error of a pitch.Solver speaks of, as the end of
// a field's path, and its cause in the words of the machine.
func (r *Rig) unsolved(err error) (part string, cause error) {
	if field, ok := err.(*units.FieldError); ok {
		if part, _ = wantedFields.Of(field.Field, 0); field.Err != nil {
			err = field.Err
		}
	}
	if out, ok := err.(*pitch.TargetError); ok {
		e := &TargetError{TargetError: out}
		if out.Err != nil {
			e.Cause = r.Cause(out.Err)
		}
		err = e
	}
	return part, err
}

func (r *Rig) validTargets(path string, t *machine.Targets) error {
	if err := (pitch.Wanted{Collective: t.Collective}).Validate(); err != nil {
		part, _ := words.Field(wantedFields, err)
		return blameField(r.file, path+part, err)
	}
	if !(t.Cyclic >= 0 && t.Cyclic.Degrees() < 90) {
		return fail(r.file, path+".cyclic", "must be 0° or more and below 90°, not %v", t.Cyclic)
	}
	return nil
}

// newSolver returns a solver for the rig's head, gauge and radio.
func (r *Rig) newSolver() (*pitch.Solver, error) {
	if !r.built() {
		return nil, errNotBuilt
	}
	return pitch.NewSolver(r.head, r.file.Gauge.Bearing, pitch.Radio{PercentStep: r.file.Radio.PercentStep, RateLimit: r.RateLimit()})
}

// Exact returns the head with servos that the radio moves without steps, as pitch.Head.Stepless
// does.
func (r *Rig) Exact() (*pitch.Head, error) {
	if !r.built() {
		return nil, errNotBuilt
	}
	return r.head.Stepless()
}

// readAt returns what the gauge shows for a setting at a stick position, the radio's pulse steps
// and the servos' limits included.
func (r *Rig) readAt(setting pitch.Setting, at pitch.Stick) (units.Angle, error) {
	d, err := setting.Demand(at)
	if err != nil {
		return 0, err
	}
	p, _, err := r.head.Blade(r.head.Control.NewState(), r.file.Gauge.Bearing, d)
	return p, err
}
