package linkage

import (
	"errors"

	"example.org/levelhead/units"
)

// Spec describes a linkage before it is built. It is a value: changing a copy leaves the
// original as it is. ArmsSpec, LineSpec and LeverSpec are those of this package.
type Spec interface {
	// Build calls the constructor of the linkage that is described.
	Build() (Linkage, error)
	// Radius returns that of the arm that drives the linkage, and 0 where there is none.
	Radius() units.Length
	// Link returns the length of its link, and 0 where there is none.
	Link() units.Length
	// WithLink returns the same with a link of another length. Where there is none, it
	// changes nothing.
	WithLink(length units.Length) Spec
}

// Build implements Spec by NewArmToArm.
func (s ArmsSpec) Build() (Linkage, error) { return built(NewArmToArm(s)) }

// Radius implements Spec.
func (s ArmsSpec) Radius() units.Length { return s.Driving.Radius }

// Link implements Spec.
func (s ArmsSpec) Link() units.Length { return s.Driving.Link }

// WithLink implements Spec.
func (s ArmsSpec) WithLink(length units.Length) Spec {
	s.Driving.Link, s.Driven.Link = length, length
	return s
}

// Build implements Spec by NewArmToLine.
func (s LineSpec) Build() (Linkage, error) { return built(NewArmToLine(s)) }

// Radius implements Spec.
func (s LineSpec) Radius() units.Length { return s.Arm.Radius }

// Link implements Spec.
func (s LineSpec) Link() units.Length { return s.Arm.Link }

// WithLink implements Spec.
func (s LineSpec) WithLink(length units.Length) Spec {
	s.Arm.Link = length
	return s
}

// LeverSpec describes a Lever, as NewLever takes it.
type LeverSpec struct {
	Ratio   float64
	In, Out Kind
}

// Build implements Spec by NewLever.
func (s LeverSpec) Build() (Linkage, error) {
	l, err := built(NewLever(s.Ratio, s.In, s.Out))
	if e := (*units.FieldError)(nil); errors.As(err, &e) {
		e.Field = leverFields[e.Field]
	}
	return l, err
}

// leverFields are the fields of a LeverSpec by the arguments of NewLever.
var leverFields = map[string]string{"ratio": "Ratio", "in": "In", "out": "Out"}

// Radius implements Spec: a lever has no arm of its own.
func (s LeverSpec) Radius() units.Length { return 0 }

// Link implements Spec: a lever has none.
func (s LeverSpec) Link() units.Length { return 0 }

// WithLink implements Spec.
func (s LeverSpec) WithLink(units.Length) Spec { return s }

// built keeps the nil of a linkage that could not be built out of the interface.
func built[L Linkage](l L, err error) (Linkage, error) {
	if err != nil {
		return nil, err
	}
	return l, nil
}
