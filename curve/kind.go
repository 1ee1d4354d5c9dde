package curve

import (
	"fmt"
	"slices"
	"strings"
)

// Kind is the rule that joins a curve's points. The zero value is Polyline.
type Kind int

const (
	// Polyline joins neighbouring points by straight lines.
	Polyline Kind = iota

	// Monotone is a piecewise cubic that never leaves the range of the two
	// points on either side, so it rises only where the points rise. F. N.
	// Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246, gave
	// the family; the slopes are those of F. N. Fritsch and J. Butland, SIAM J.
	// Sci. Stat. Comput. 5 (1984) 300-304. Its slope is continuous.
	Monotone

	// Akima is the local piecewise cubic of H. Akima, J. ACM 17 (1970)
	// 589-602. Its slope is continuous; it can overshoot the points a little.
	Akima

	// Natural is the cubic spline whose second derivative is zero at both
	// ends. Slope and second derivative are continuous; it can overshoot.
	Natural

	// NotAKnot is the cubic spline whose first two segments are one cubic, and
	// whose last two are. It needs four points, reproduces any cubic, and can
	// overshoot.
	NotAKnot
)

var kindNames = [...]string{
	Polyline: "polyline",
	Monotone: "monotone",
	Akima:    "akima",
	Natural:  "natural",
	NotAKnot: "not-a-knot",
}

func (k Kind) valid() bool { return k >= 0 && int(k) < len(kindNames) }

// String returns the kind's name, as MarshalText does, or "Kind(7)" for a
// number that is no kind.
func (k Kind) String() string {
	if !k.valid() {
		return fmt.Sprintf("Kind(%d)", int(k))
	}
	return kindNames[k]
}

// MarshalText returns the kind's name, or a *KindError for a number that is no kind.
func (k Kind) MarshalText() ([]byte, error) {
	if !k.valid() {
		return nil, &KindError{Text: k.String()}
	}
	return []byte(kindNames[k]), nil
}

// UnmarshalText takes one of "polyline", "monotone", "akima", "natural" and
// "not-a-knot"; for anything else it returns a *KindError and leaves k alone.
func (k *Kind) UnmarshalText(text []byte) error {
	i := slices.Index(kindNames[:], string(text))
	if i < 0 {
		return &KindError{Text: string(text)}
	}
	*k = Kind(i)
	return nil
}

// minPoints is the fewest points that the kind can join.
func (k Kind) minPoints() int {
	if k == NotAKnot {
		return 4
	}
	return 2
}

// KindError reports a text or number that names no kind of curve.
type KindError struct {
	Text string // what was given, such as "straight" or "Kind(7)"
}

func (e *KindError) Error() string {
	return fmt.Sprintf("curve kind %q must be one of %s", e.Text, strings.Join(kindNames[:], ", "))
}
