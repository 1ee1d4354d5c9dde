package gauge

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// SpecError reports a part of a description that makes no sense.
type SpecError struct {
	Field  string
	Reason string
	Err    error // the cause, where another package found it
}

func (e *SpecError) Error() string { return "gauge: " + e.Field + ": " + e.Reason }

func (e *SpecError) Unwrap() error { return e.Err }

// RateError reports a collective or cyclic rate that a build needs, and that the radio does not take.
type RateError struct {
	What        string      // such as "right cyclic rate"
	Rate, Limit units.Ratio // what it needs, and setup.Radio.RateLimit
}

func (e *RateError) Error() string {
	return fmt.Sprintf("gauge: the %s would have to be %v, which is %v beyond the radio's limit of %v",
		e.What, units.Round(e.Rate, 2), units.Round(units.Ratio(math.Abs(float64(e.Rate)))-e.Limit, 2), units.Round(e.Limit, 2))
}

// MisfitError reports readings that do not belong to this build: no build with its parts
// anywhere near their tolerances shows them.
type MisfitError struct {
	Readings  int     // how many there were
	ChiSquare float64 // of readings and tolerances together; about Readings where all is well
	P         float64 // the probability of so bad a fit or a worse one by chance
	// Suspects are the readings of which some, left out, would let the rest be
	// explained; from 0. There are none where no few of them would.
	Suspects []int
	// TooFew is set where there are suspects, and the readings do not tell which of
	// them it is, or whether it is the reading or the build.
	TooFew bool
	// Unless are the parts of which any one alone, far beyond its tolerance, would explain
	// all the readings; the best first.
	Unless []Fault
	Err    error // what stopped the fit, where something did
}

func (e *MisfitError) Error() string {
	if e.Err != nil {
		return fmt.Sprintf("gauge: no build near the file's shows these %d readings: %v", e.Readings, e.Err)
	}
	s := fmt.Sprintf("gauge: the %d readings do not belong to this build: chance makes sound readings look so bad %s", e.Readings, e.Chance())
	if e.TooFew {
		s += "; some of them or a part far off may be to blame, and the readings are too few to tell: suspect"
		for i, k := range e.Suspects {
			if i > 0 {
				s += ","
			}
			s += fmt.Sprintf(" reading %d", k+1)
		}
	}
	for i, f := range e.Unless {
		s += []string{"; unless", ", or"}[min(i, 1)] + fmt.Sprintf(" %s is off by %s", f.Name, f.Parameter.Kind.Format(f.Off))
	}
	return s
}

// Chance says in words how often sound readings look so bad by chance: P.
func (e *MisfitError) Chance() string {
	const million = 1e6
	if e.P*million < 1 {
		return "less than once in a million times"
	}
	times := 1 / e.P
	two := math.Pow(10, math.Max(0, math.Floor(math.Log10(times))-1)) // to two digits
	return fmt.Sprintf("about once in %.0f times", math.Round(times/two)*two)
}

func (e *MisfitError) Unwrap() error { return e.Err }
