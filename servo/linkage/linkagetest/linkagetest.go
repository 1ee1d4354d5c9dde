package linkagetest

import (
	"errors"
	"fmt"

	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
)

// LawError reports a law that a linkage breaks.
type LawError struct {
	Law    int     // its number in the doc of linkage.Linkage, or 0 for a claim
	Name   string  // of the law or claim
	At     float64 // the input, or the output given to Back, where it was first seen
	Detail string  // what is wrong there, and by how much
	More   int     // the number of other places where the same is wrong
}

func (e *LawError) Error() string {
	law := "claim"
	if e.Law != 0 {
		law = fmt.Sprintf("law %d", e.Law)
	}
	more := ""
	if e.More > 0 {
		more = fmt.Sprintf(" (and at %d other places)", e.More)
	}
	return fmt.Sprintf("linkagetest: %s, %s: at %.9g: %s%s", law, e.Name, e.At, e.Detail, more)
}

// Claim is a property that not every linkage has.
type Claim int

// The claims.
const (
	// Odd is symmetry about neutral: the travel ends equally far on both sides,
	// and equal inputs to either side move the output equally, opposite ways.
	Odd Claim = iota + 1
)

// Check holds a linkage to every law, and to the claims made for it. It returns
// nil, or all that is broken: *[LawError] values joined by [errors.Join].
//
// Check counts allocations, so a test that calls it must not be parallel.
func Check(l linkage.Linkage, claims ...Claim) error {
	return check(l, claims).err()
}

// Test draws many linkages, and checks each at the samples of [Check] and at inputs and
// outputs drawn as well. It fails t at the first that breaks a law, made as simple as rapid can
// make it. Draw can skip. The test must not be parallel.
func Test(t rapid.TB, draw func(*rapid.T) linkage.Linkage, claims ...Claim) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		c := check(draw(t), claims)
		if c.works {
			c.input(rapid.Float64Range(c.low, c.high).Draw(t, "input"))
			c.input(rapid.Float64().Draw(t, "any input"))
			c.output(rapid.Float64Range(min(c.atLow, c.atHigh), max(c.atLow, c.atHigh)).Draw(t, "output"))
			c.output(rapid.Float64().Draw(t, "any output"))
		}
		if err := c.err(); err != nil {
			t.Fatal(err)
		}
	})
}

func check(l linkage.Linkage, claims []Claim) *checker {
	c := newChecker(l)
	if !c.works {
		return c
	}
	samples := c.samples()
	for _, in := range samples {
		c.inside(in)
	}
	c.oneWay(samples)
	c.refusals()
	c.stops()
	c.ends(samples)
	c.allocations(samples)
	for _, claim := range claims {
		switch claim {
		case Odd:
			c.odd(samples)
		default:
			c.fail(0, float64(claim), "there is no claim %d", int(claim))
		}
	}
	c.constant()
	return c
}

// names are the laws by their numbers.
var names = [...]string{
	0: "odd",
	1: "inverse",
	2: "slope",
	3: "continuous and monotone",
	4: "honest errors",
	5: "answers within the travel",
	6: "no allocation",
	7: "constant",
	8: "true stops",
	9: "ends of the link",
}

// fail records that a law is broken. What is told by the same format is the same
// failure, and recorded once.
func (c *checker) fail(law int, at float64, format string, args ...any) {
	key := fmt.Sprint(law, format)
	if e := c.seen[key]; e != nil {
		e.More++
		return
	}
	e := &LawError{Law: law, Name: names[law], At: at, Detail: fmt.Sprintf(format, args...)}
	c.seen[key] = e
	c.broken = append(c.broken, e)
}

func (c *checker) err() error { return errors.Join(c.broken...) }
