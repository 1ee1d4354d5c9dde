package network

import (
	"fmt"
	"strings"

	"example.org/levelhead/units"
)

// fault returns the *units.FieldError of a field of a Spec, of the element that is "body",
// "ball" or "link" i. Words are those of the field, without an axis.
func fault(part, name string, i int, field, reason string, args ...any) error {
	list := map[string]string{"body": "Bodies", "ball": "Balls", "link": "Links"}[part]
	words, _, _ := strings.Cut(field, ".")
	return &units.FieldError{
		Field:  fmt.Sprintf("%s[%d].%s", list, i, field),
		Words:  fmt.Sprintf("network: %s %q: %s:", part, name, words),
		Reason: fmt.Sprintf(reason, args...),
	}
}

// refuse returns the *units.FieldError of an argument: a number that is not finite, a slice
// of the wrong length, or a state that holds no answer.
func refuse(field, reason string, args ...any) error {
	return &units.FieldError{Field: field, Words: "network: " + field + ":", Reason: fmt.Sprintf(reason, args...)}
}

// LooseError reports bodies that can move though every input stands still, to first
// order: no link holds them, or the links that should stand at a dead centre. It is
// judged by the rank of the links' equations at neutral, not by counting them.
type LooseError struct {
	Bodies   []string // those that move
	Freedoms int      // in how many ways they do
	// Conflicts is how many links too many there are elsewhere, which fight though
	// others are missing.
	Conflicts int
}

func (e *LooseError) Error() string {
	text := fmt.Sprintf("network: %s: can move in %d ways though every input stands still", quoted(e.Bodies), e.Freedoms)
	if e.Freedoms == 1 {
		text = fmt.Sprintf("network: %s: can move though every input stands still", quoted(e.Bodies))
	}
	if e.Conflicts > 0 {
		text += fmt.Sprintf("; %d of the links are too many elsewhere", e.Conflicts)
	}
	return text
}

func quoted(names []string) string {
	q := make([]string, len(names))
	for i, n := range names {
		q[i] = fmt.Sprintf("%q", n)
	}
	return strings.Join(q, ", ")
}

// CarrierError reports bodies that carry each other in a circle.
type CarrierError struct {
	Bodies []string // each on the next, and the last on the first
}

func (e *CarrierError) Error() string {
	return fmt.Sprintf("network: %s carry each other in a circle", quoted(e.Bodies))
}

// DeadCentreError reports where on the way from neutral the links lose their hold.
type DeadCentreError struct {
	Link, Body string // the link that no longer holds the body
	// Margin is the sine of the angle between the link and one line with the body's
	// motion lost: 1 is square and 0 the dead centre. Several links can lose their
	// hold together, each of them at an angle that would do for itself.
	Margin float64
	Part   float64 // of the way from neutral to the inputs, or of the direction, where that is
}

func (e *DeadCentreError) Error() string {
	return fmt.Sprintf("network: link %q loses its hold on %q at %.4g %% of the way from neutral: the sine of its angle is %.3g",
		e.Link, e.Body, 100*e.Part, e.Margin)
}

// TiltError reports a plate that would tilt by more than 45°: more than any ball joint
// on a mast allows, and as far as a plate is followed.
type TiltError struct {
	Plate string
	Tilt  units.Angle // to which it was followed
	Part  float64     // as in DeadCentreError
}

func (e *TiltError) Error() string {
	return fmt.Sprintf("network: plate %q tilts by more than 45° from %.4g %% of the way from neutral on", e.Plate, 100*e.Part)
}

// FitError reports links that do not reach at neutral.
type FitError struct {
	Link string
	// Misfit is the distance between the link's balls as drawn minus its length.
	Misfit units.Length
	Err    error // what stops the links on the way from the drawing to their lengths
}

func (e *FitError) Error() string {
	return fmt.Sprintf("network: the links do not fit at neutral: %q is %.4g mm from its length as drawn: %v", e.Link, e.Misfit.Millimetres(), e.Err)
}

func (e *FitError) Unwrap() error { return e.Err }

var errNoState = refuse("state", "is empty; make it with Network.NewState")
