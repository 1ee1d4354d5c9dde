package units

// A Ratio is a pure number, 1 for the whole: a share of travel, of throttle or
// of a curve, or a gear ratio.
type Ratio float64

// Units of ratio.
const (
	One     Ratio = 1
	Percent Ratio = 1e-2
)

var ratio = newDimension("ratio",
	of(Percent, "%", "percent"),
	of(One, ":1"),
)

// Percent returns r in per cent.
func (r Ratio) Percent() float64 { return float64(r / Percent) }

// String returns r for people, rounded to six significant digits.
func (r Ratio) String() string { return format(r) }

// MarshalText returns r exactly. The error is a [*NotFiniteError].
func (r Ratio) MarshalText() ([]byte, error) { return marshal(r) }

// UnmarshalText sets r as [Parse] does, and leaves it unchanged on an error.
func (r *Ratio) UnmarshalText(text []byte) error { return unmarshal(r, text) }

func (Ratio) dimension() *dimension { return ratio }
