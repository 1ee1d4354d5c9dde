package gauge

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Reading is what a gauge showed.
type Reading struct {
	Point
	Gauge string // by its name; "" is the only one on the bench that measures the quantity
	Value units.Angle
}

// ReadingError reports a reading that makes no sense.
type ReadingError struct {
	Index  int    // of the reading, from 0
	Field  string // at fault
	Reason string // with the amount
	Err    error  // the cause, where another package found it
}

func (e *ReadingError) Error() string {
	return fmt.Sprintf("gauge: reading %d: %s: %s", e.Index+1, e.Field, e.Reason)
}

func (e *ReadingError) Unwrap() error { return e.Err }

// MaxReadings is how many readings are fitted at most. It is far above what anyone takes:
// the time of a fit grows with its cube.
const MaxReadings = 60

// row is a reading ready to be fitted.
type row struct {
	place
	gauge int
	zero  int // place in x of its gauge's zero; -1 where it has none
	value float64
	sigma float64
}

// rows checks readings. The error is a *ReadingError, or a *SpecError for too many.
func (b *Session) rows(readings []Reading) ([]row, error) {
	if len(readings) > MaxReadings {
		return nil, &SpecError{Field: "readings", Reason: fmt.Sprintf("%d are more than %d", len(readings), MaxReadings)}
	}
	rows := make([]row, len(readings))
	for i := range readings {
		r := &readings[i]
		at, err := b.row(&r.Point, r.Gauge)
		if err != nil {
			return nil, readingError(i, err)
		}
		g := &b.gauges[at.gauge]
		switch v := r.Value; {
		case !units.Finite(v):
			return nil, &ReadingError{Index: i, Field: "value", Reason: "not a finite angle"}
		case !g.Shows(v):
			return nil, &ReadingError{Index: i, Field: "value", Reason: fmt.Sprintf("%.4g° is off the scale of %q, %.4g° to %.4g°, by %.4g°",
				v.Degrees(), g.Name, g.Low.Degrees(), g.High.Degrees(), math.Max(float64(g.Low-v), float64(v-g.High))/float64(units.Degree))}
		}
		at.value = float64(r.Value)
		rows[i] = at
	}
	return rows, nil
}

// row returns a row without a value.
func (b *Session) row(s *Point, gauge string) (row, error) {
	p, err := b.find(s)
	if err != nil {
		return row{}, err
	}
	g, err := b.gauge(gauge, s.Of)
	if err != nil {
		return row{}, err
	}
	return row{place: p, gauge: g, zero: b.model.zeros[g], sigma: float64(b.gauges[g].Sigma())}, nil
}

func readingError(i int, err error) error {
	if spec := (*SpecError)(nil); errors.As(err, &spec) {
		return &ReadingError{i, spec.Field, spec.Reason, spec.Err}
	}
	return &ReadingError{i, "spot", err.Error(), err}
}

// show works out what rows should show on a build whose parts are off by x, and the
// derivatives over x. The error is a *ReadingError.
func (b *build) show(rows []row, x, values, derivs []float64) error {
	if err := b.set(x); err != nil {
		return err
	}
	for i := range rows {
		r := &rows[i]
		if i == 0 || r.mode != rows[i-1].mode || r.stick != rows[i-1].stick {
			if err := b.stand(r.at); err != nil {
				return readingError(i, err)
			}
			if err := b.effects(); err != nil {
				return readingError(i, err)
			}
		}
		d := derivs[i*len(x):][:len(x)]
		v, err := b.slope(d, &r.sight)
		if err != nil {
			return readingError(i, err)
		}
		values[i] = float64(v)
		if r.zero >= 0 {
			values[i] += x[r.zero]
			d[r.zero] = 1
		}
	}
	return nil
}
