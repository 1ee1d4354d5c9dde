package linkage

import (
	"errors"
	"fmt"
	"math"
)

// Chain is several linkages one behind the other, as with bell cranks: the output of each is
// the input of the next. Its travel is what all of them allow. It implements Linked.
type Chain struct {
	members       []Linkage
	travel        Travel
	atLow, atHigh float64 // outputs just within the travel's ends
}

// NewChain joins linkages, the first one driven by the servo. It refuses a chain with no
// members, or a nil one, or one that takes another kind than the one before gives, or one
// that neutral puts out of its travel. The error is a *units.FieldError.
func NewChain(members ...Linkage) (*Chain, error) {
	if len(members) == 0 {
		return nil, words.Refuse("members", "must be one or more, not none")
	}
	c := &Chain{members: append([]Linkage(nil), members...)}
	for i, m := range members {
		field := fmt.Sprintf("members[%d]", i)
		if m == nil {
			return nil, words.Refuse(field, "must not be nil")
		}
		if i == 0 {
			c.travel = m.Travel()
		} else if err := c.narrow(i, field); err != nil {
			return nil, err
		}
		c.atLow, c.atHigh = c.outputNear(c.travel.Low, i+1), c.outputNear(c.travel.High, i+1)
	}
	return c, nil
}

// narrow takes member i's travel into that of the ones before.
func (c *Chain) narrow(i int, field string) error {
	_, out := c.members[i-1].Kinds()
	in, _ := c.members[i].Kinds()
	if in != out {
		return words.Refuse(field, "must take what the member before gives, which is %v, and not %v", out, in)
	}
	before := &Chain{members: c.members[:i], travel: c.travel, atLow: c.atLow, atHigh: c.atHigh}
	neutral, err := before.Move(0)
	if err != nil {
		e := words.Refuse(field, "cannot be driven at neutral, since %v", err)
		e.Err = err
		return e
	}
	t := c.members[i].Travel()
	if !t.Holds(neutral.Out) {
		return words.Refuse(field, "must work at neutral, which puts its input at %.6g, outside its travel from %.6g to %.6g (rad or m)", neutral.Out, t.Low, t.High)
	}
	if neutral.Slope < 0 {
		t.Low, t.High, t.AtLow, t.AtHigh = t.High, t.Low, t.AtHigh, t.AtLow
	}
	// Where the end of the member's travel lies beyond what the ones before
	// can give, theirs is the narrower.
	if in, err := before.Back(t.High); err == nil && in < c.travel.High {
		c.travel.High, c.travel.AtHigh = in, t.AtHigh
	}
	if in, err := before.Back(t.Low); err == nil && in > c.travel.Low {
		c.travel.Low, c.travel.AtLow = in, t.AtLow
	}
	return nil
}

// outputNear returns the output of the first n members at the last input on the way
// to an end of the travel at which all of them work.
func (c *Chain) outputNear(end float64, n int) float64 {
	part := &Chain{members: c.members[:n], travel: c.travel}
	for back := math.Abs(math.Nextafter(end, 0) - end); back < math.Abs(end); back *= 2 {
		if m, err := part.Move(end - math.Copysign(back, end)); err == nil {
			return m.Out
		}
	}
	m, _ := part.Move(0) // it works at neutral
	return m.Out
}

// Members returns a copy of the list of linkages, the one that the servo drives first.
func (c *Chain) Members() []Linkage { return append([]Linkage(nil), c.members...) }

// Kinds implements Linkage.
func (c *Chain) Kinds() (in, out Kind) {
	if len(c.members) == 0 {
		return Angle, Angle
	}
	in, _ = c.members[0].Kinds()
	_, out = c.members[len(c.members)-1].Kinds()
	return in, out
}

// Travel implements Linkage.
func (c *Chain) Travel() Travel { return c.travel }

// Move implements Linkage.
func (c *Chain) Move(in float64) (Motion, error) {
	if err := c.travel.check(in); err != nil {
		return Motion{}, err
	}
	m := Motion{Out: in, Slope: 1, Input: math.Pi / 2, Transmission: math.Pi / 2}
	for i, l := range c.members {
		next, err := l.Move(m.Out)
		if err != nil {
			return Motion{}, c.atEnd(in, err)
		}
		m.Out, m.Slope = next.Out, m.Slope*next.Slope
		m.Input, m.Transmission = min(m.Input, next.Input), min(m.Transmission, next.Transmission)
		if i == 0 {
			m.OffSquare, m.BallLinkAngle = next.OffSquare, next.BallLinkAngle
		}
	}
	return m, nil
}

// Back implements Linkage.
func (c *Chain) Back(out float64) (float64, error) {
	if err := c.travel.checkOutput(out, c.atLow, c.atHigh); err != nil {
		return 0, err
	}
	x := out
	for i := len(c.members) - 1; i >= 0; i-- {
		var err error
		if x, err = c.members[i].Back(x); err != nil {
			return 0, c.travel.outputError(out, c.atLow, c.atHigh) // within rounding of an end
		}
	}
	if !c.travel.Holds(x) {
		return 0, c.travel.outputError(out, c.atLow, c.atHigh)
	}
	return x, nil
}

// LinkSlopes implements Linked. Members that are not Linked have no links.
func (c *Chain) LinkSlopes(dst []float64, in float64) ([]float64, error) {
	if err := c.travel.check(in); err != nil {
		return dst, err
	}
	first := len(dst)
	for _, l := range c.members {
		m, err := l.Move(in)
		if err != nil {
			return dst[:first], err
		}
		// All links so far act on the output through this member too.
		for i := range dst[first:] {
			dst[first+i] *= m.Slope
		}
		if linked, ok := l.(Linked); ok {
			if dst, err = linked.LinkSlopes(dst, in); err != nil {
				return dst[:first], err
			}
		}
		in = m.Out
	}
	return dst, nil
}

// atEnd reports an input so near the travel's end that a member refuses it.
func (c *Chain) atEnd(in float64, err error) error {
	end := c.travel.High
	if in < 0 {
		end = c.travel.Low
	}
	stop := Unbounded
	if t := (*TravelError)(nil); errors.As(err, &t) {
		stop = t.Stop
	}
	return &TravelError{In: in, Excess: in - end, Stop: stop}
}
