package pitch

import (
	"errors"
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/units"
)

// find returns the demand at which f gives want. It steps out from 0 to either side,
// first to the one that comes nearer, to where f passes want, and refines there.
func find(what string, want units.Angle, f func(float64) (units.Angle, error)) (float64, error) {
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
	d, err := findToward(first, what, want, here, f)
	if err == nil {
		return d, nil
	}
	d, other := findToward(-first, what, want, here, f)
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
func findToward(direction float64, what string, want, start units.Angle, f func(float64) (units.Angle, error)) (float64, error) {
	short := want > start
	nearest := start
	value := func(d float64) (float64, error) {
		p, err := f(d)
		return float64(p), err
	}
	for d := 0.; d < farthest; d += stride {
		next, err := f(direction * (d + stride))
		if err != nil {
			return last(what, want, value, direction*d, direction*(d+stride))
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
	return 0, &TargetError{what, want, nearest, nil}
}

// last looks for want between the last demand that works and the first that
// does not: it closes in on the limit, and refines where that lies beyond want.
func last(what string, want units.Angle, value func(float64) (float64, error), works, fails float64) (float64, error) {
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
	return 0, &TargetError{what, want, units.Angle(at), cause}
}
