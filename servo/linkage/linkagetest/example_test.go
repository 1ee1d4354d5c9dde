package linkagetest_test

import (
	"fmt"
	"math"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/linkage/linkagetest"
	"example.org/levelhead/units"
)

// Yoke is a Scotch yoke: the pin of a crank works in a slot that lies square to
// the way of a slider, and moves it by the sine of the crank's angle. At neutral
// the crank stands along the slot.
type Yoke struct{ radius float64 }

// NewYoke returns a yoke of a crank's radius. One that is not above 0 is refused
// with a *units.FieldError.
func NewYoke(radius units.Length) (*Yoke, error) {
	if !(radius > 0) || !units.Finite(radius) {
		return nil, &units.FieldError{Field: "Radius", Reason: fmt.Sprintf("must be more than 0 mm, not %v", radius)}
	}
	return &Yoke{float64(radius)}, nil
}

// Kinds implements linkage.Linkage.
func (y *Yoke) Kinds() (in, out linkage.Kind) { return linkage.Angle, linkage.Length }

// Travel implements linkage.Linkage: a quarter turn to either side the crank
// stands along the slider's way, and moves it no further.
func (y *Yoke) Travel() linkage.Travel {
	return linkage.Travel{
		Low: -math.Pi / 2, AtLow: linkage.InputInLine,
		High: math.Pi / 2, AtHigh: linkage.InputInLine,
	}
}

// Move implements linkage.Linkage.
func (y *Yoke) Move(in float64) (linkage.Motion, error) {
	if !y.Travel().Holds(in) {
		return linkage.Motion{}, &linkage.TravelError{
			In:     in,
			Excess: in - math.Copysign(math.Pi/2, in),
			Stop:   linkage.InputInLine,
		}
	}
	sin, cos := math.Sincos(in)
	return linkage.Motion{
		Out:   y.radius * sin,
		Slope: y.radius * cos,
		// The pin pushes the slot along the slider's way.
		Input:        units.Angle(math.Pi/2 - math.Abs(in)),
		Transmission: math.Pi / 2,
	}, nil
}

// Back implements linkage.Linkage.
func (y *Yoke) Back(out float64) (float64, error) {
	if !(math.Abs(out) < y.radius) { // refuses NaN too
		return 0, &linkage.TravelError{
			In:     math.NaN(),
			Out:    out,
			Excess: out - math.Copysign(y.radius, out),
			Stop:   linkage.InputInLine,
		}
	}
	return math.Asin(out / y.radius), nil
}

// A new geometry type and the one call that holds it to the laws of linkage.Linkage.
func Example() {
	yoke, err := NewYoke(10 * units.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := yoke.Move(float64(30 * units.Degree))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("at 30° the slider is %.3f mm out\n", units.Length(m.Out).Millimetres())
	fmt.Println("broken laws:", linkagetest.Check(yoke, linkagetest.Odd))
	// Output:
	// at 30° the slider is 5.000 mm out
	// broken laws: <nil>
}
