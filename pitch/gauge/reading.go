package gauge

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Reading is what a gauge showed.
type Reading struct {
	Point
	Gauge string      `json:"gauge,omitempty"` // by its name; "" is the only one of the session that measures the quantity
	Value units.Angle `json:"value"`
}

// ReadingError reports a reading that cannot be one, such as of a blade that the head does
// not have, or beyond the scale of its gauge.
type ReadingError struct {
	Index int // of the reading, from 0
	// What is wrong with it. Its Field is one of Reading, such as "Stick.Collective"; "Point"
	// is a point that no build gets to.
	What *units.FieldError
}

func (e *ReadingError) Error() string {
	return fmt.Sprintf("gauge: reading %d: %v", e.Index+1, e.What)
}

func (e *ReadingError) Unwrap() error { return e.What }

// MaxReadings is how many readings Fit takes at most. It is far above what anyone reads:
// the time of a fit grows with its cube.
const MaxReadings = 60

// row is a reading, checked and ready for a fit.
type row struct {
	place
	gauge int
	zero  int // place in x of its gauge's zero; -1 where it has none
	value float64
	sigma float64
}

// rows checks readings. The error is a *ReadingError, or a *units.FieldError for too many.
func (b *Session) rows(readings []Reading) ([]row, error) {
	if len(readings) > MaxReadings {
		return nil, own(refuse("readings", "are %d; give at most %d", len(readings), MaxReadings))
	}
	rows := make([]row, len(readings))
	for i := range readings {
		r := &readings[i]
		at, err := b.row(&r.Point, r.Gauge)
		if err != nil {
			return nil, b.model.readingError(i, err)
		}
		g := &b.gauges[at.gauge]
		switch v := r.Value; {
		case !units.Finite(v):
			return nil, &ReadingError{i, words.Refuse("Value", "is not a finite angle; write what the gauge shows")}
		case !g.Shows(v):
			return nil, &ReadingError{i, words.Refuse("Value", "is %.4g°, which is off the scale of the %s by %.4g°; write an angle from %.4g° to %.4g°",
				v.Degrees(), g.Name, math.Max(float64(g.Low-v), float64(v-g.High))/float64(units.Degree), g.Low.Degrees(), g.High.Degrees())}
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

// readingError returns a *ReadingError for reading i.
func (m *model) readingError(i int, err error) error {
	if field, ok := err.(*units.FieldError); ok {
		return &ReadingError{i, field}
	}
	return &ReadingError{i, &units.FieldError{Field: "Point", Words: "point", Reason: "cannot be reached: " + m.say(err), Err: err}}
}

// show works out what rows should show on a build whose parameters are off by x, and the
// derivatives over x. The error is a *ReadingError.
func (b *build) show(rows []row, x, values, derivs []float64) error {
	if err := b.set(x); err != nil {
		return err
	}
	for i := range rows {
		r := &rows[i]
		if i == 0 || r.mode != rows[i-1].mode || r.stick != rows[i-1].stick {
			if err := b.stand(r.at); err != nil {
				return b.model.readingError(i, err)
			}
			if err := b.effects(); err != nil {
				return b.model.readingError(i, err)
			}
		}
		d := derivs[i*len(x):][:len(x)]
		v, err := b.slope(d, &r.sight)
		if err != nil {
			return b.model.readingError(i, err)
		}
		values[i] = float64(v)
		if r.zero >= 0 {
			values[i] += x[r.zero]
			d[r.zero] = 1
		}
	}
	return nil
}
