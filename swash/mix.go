package swash

import (
	"fmt"
	"iter"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/levelhead/units"
)

// Demand is what the sticks ask of the swashplate, each part -1 to 1 at a stick's
// ends: collective raises the plate, right cyclic lowers its right
// side, and forward cyclic lowers its front.
type Demand struct {
	Collective, Right, Forward float64
}

// Rates are the collective rate and both cyclic rates, 100 % for as much as the mixing gives. A
// rate scales its whole function, and so never changes how the servos share it. A negative
// rate turns the function round.
type Rates struct {
	Collective units.Ratio `json:"collective"`
	Right      units.Ratio `json:"right"`
	Forward    units.Ratio `json:"forward"`
}

// Scale returns the demand with each part multiplied by its rate.
func (r Rates) Scale(d Demand) Demand {
	return Demand{
		d.Collective * float64(r.Collective),
		d.Right * float64(r.Right),
		d.Forward * float64(r.Forward),
	}
}

// MaxRate is the largest rate that is taken, either way: far beyond any radio's. What is more is
// a slip, such as 60 for 60 %.
const MaxRate = 1000 * units.Percent

// Validate reports a rate that is not finite, or beyond MaxRate, as a *units.FieldError.
func (r Rates) Validate() error {
	i := 0
	for name, rate := range r.All() {
		if !units.Finite(rate) {
			return &units.FieldError{Field: functions[i], Words: "swash: " + name + ":", Reason: fmt.Sprintf("must be finite, not %v", float64(rate))}
		}
		if rate > MaxRate || rate < -MaxRate {
			return &units.FieldError{Field: functions[i], Words: "swash: " + name + ":", Reason: fmt.Sprintf("must be within ±%v, not %v", MaxRate, rate)}
		}
		i++
	}
	return nil
}

// All yields each rate by its name: "collective rate", "right cyclic rate" and
// "forward cyclic rate", in this order.
func (r Rates) All() iter.Seq2[string, units.Ratio] {
	return func(yield func(string, units.Ratio) bool) {
		_ = yield("collective rate", r.Collective) && yield("right cyclic rate", r.Right) && yield("forward cyclic rate", r.Forward)
	}
}

// Mix is the radio's mixing: for each servo, the command for a demand of 1 of
// each function. A positive command raises the servo's ball, 1 by its nominal throw.
type Mix []Demand

// Mix returns the mixing that the balls' bearings and radii call for, all arms
// alike: collective moves all servos by 1, and cyclic towards the bearing of
// the outermost ball moves its servo by 1. Full right and full forward cyclic
// then tilt the plate alike. This is common practice, no source.
func (l Layout) Mix() Mix {
	var far units.Length
	for _, b := range l {
		far = max(far, b.Radius)
	}
	m := make(Mix, len(l))
	for i, b := range l {
		sin, cos := math.Sincos(float64(b.Bearing))
		share := float64(b.Radius / far)
		m[i] = Demand{1, 0 - share*sin, 0 - share*cos} // no negative zeros
	}
	return m
}

// Mix returns the mixing that the plate's true geometry calls for at neutral,
// where all servos have the same throw: to first order collective does not tilt
// the plate and cyclic does not lift it, whatever its arms and links. The
// servo that works most has the command 1 at full collective, and at full
// cyclic towards the bearing that suits it. For even legs it is the Mix of
// their layout.
func (p *Plate) Mix() (Mix, error) {
	effects := make([]LegEffect, len(p.legs))
	if err := p.LegEffects(effects, p.neutral, make([]units.Angle, len(p.legs))); err != nil {
		return nil, err
	}
	var collective, cyclic float64
	for _, e := range effects {
		collective = math.Max(collective, math.Abs(e.ArmPer.Height))
		cyclic = math.Max(cyclic, math.Hypot(e.ArmPer.Right, e.ArmPer.Forward))
	}
	m := make(Mix, len(p.legs))
	for i, e := range effects {
		m[i] = Demand{e.ArmPer.Height / collective, e.ArmPer.Right / cyclic, e.ArmPer.Forward / cyclic}
	}
	return m, nil
}

// Command returns the command of one servo, from 0, for a demand: 1 is its nominal throw.
func (m Mix) Command(servo int, d Demand) float64 {
	if servo < 0 || servo >= len(m) {
		return math.NaN()
	}
	row := m[servo]
	return row.Collective*d.Collective + row.Right*d.Right + row.Forward*d.Forward
}

// Inverse returns the matrix that turns commands back into a demand. It refuses a mixing
// that leaves a function undriven, or one of fewer than three servos, with a *units.FieldError.
func (m Mix) Inverse() (*Unmix, error) {
	if len(m) < 3 {
		return nil, refuseMix("%d servos; it takes three or more", len(m))
	}
	a := mat.NewDense(len(m), 3, nil)
	for i, row := range m {
		for j, v := range []float64{row.Collective, row.Right, row.Forward} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, &units.FieldError{Field: fmt.Sprintf("[%d].%s", i, functions[j]), Words: fmt.Sprintf("swash: mix, servo %d:", i+1), Reason: fmt.Sprintf("must be finite, not %v", v)}
			}
			a.Set(i, j, v)
		}
	}
	var qr mat.QR
	qr.Factorize(a)
	if c := qr.Cond(); !(c < 1e8) {
		return nil, refuseMix("must drive collective, right and forward apart from each other; its condition number is %.3g, and 1e+08 is the most", c)
	}
	eye := mat.NewDense(len(m), len(m), nil)
	for i := range m {
		eye.Set(i, i, 1)
	}
	var inverse mat.Dense
	if err := qr.SolveTo(&inverse, false, eye); err != nil {
		return nil, refuseMix("%v", err)
	}
	u := &Unmix{mix: m, columns: make([]Demand, len(m))}
	for i := range m {
		u.columns[i] = Demand{inverse.At(0, i), inverse.At(1, i), inverse.At(2, i)}
	}
	return u, nil
}

// refuseMix is refuse of the whole Mix.
func refuseMix(reason string, args ...any) error {
	return &units.FieldError{Words: "swash: mix:", Reason: fmt.Sprintf(reason, args...)}
}

// Unmix is the inverse of a Mix, by least squares where there are more than
// three servos.
type Unmix struct {
	mix     Mix
	columns []Demand
}

// Demand returns the demand whose commands come nearest to the given ones. Residual is how
// far they are from those, as the root of the sum of squares: 0 but for rounding with
// three servos, and with more the part in which the servos fight.
func (u *Unmix) Demand(commands []float64) (d Demand, residual float64, err error) {
	if len(commands) != len(u.columns) {
		return Demand{}, 0, refuse("commands", "%d of them; give one for each of the %d servos", len(commands), len(u.columns))
	}
	for i, c := range commands {
		if math.IsNaN(c) || math.IsInf(c, 0) {
			return Demand{}, 0, refuse(fmt.Sprintf("commands[%d]", i), "must be finite, not %v", c)
		}
		col := u.columns[i]
		d.Collective += c * col.Collective
		d.Right += c * col.Right
		d.Forward += c * col.Forward
	}
	for i, c := range commands {
		residual = math.Hypot(residual, c-u.mix.Command(i, d))
	}
	return d, residual, nil
}
