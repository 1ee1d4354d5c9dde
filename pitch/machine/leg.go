package machine

import (
	"maps"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Leg is a servo, its arm (also called servo horn) and its link to the plate: drawn as an
// upright leg, or by true positions.
type Leg struct {
	Name    string      `json:"name"`
	Upright *Upright    `json:"upright,omitempty"`
	Spatial *Spatial    `json:"spatial,omitempty"`
	Servo   ServoOfALeg `json:"servo"`
	// Stiffness of the link with its balls, and of the servo with its mount,
	// along the link: for plates of more than three legs, whose servos can
	// fight. One of the two on all legs, or on none; one that is left out counts
	// as rigid.
	LinkStiffness  *units.Stiffness `json:"link_stiffness,omitempty"`
	MountStiffness *units.Stiffness `json:"mount_stiffness,omitempty"`
}

// Shape is how a leg is drawn: an Upright or a Spatial. Another one is a field of Leg, which is
// a pointer and may be left out, and a type with these methods.
type Shape interface {
	// Leg returns what is described, on a plate of a neutral height, without its
	// stiffness. The error is a *units.FieldError.
	Leg(height units.Length) (swash.LegSpec, error)
	// Fields are the fields in the file, such as ".ball_radius", by those of a
	// swash.LegSpec and the arguments that Leg passes on.
	Fields() units.FieldNames
}

// Shape returns how the leg is drawn, and its name in the file. The error is a *ChoiceError.
func (l Leg) Shape() (field string, shape Shape, err error) { return choose[Shape](l) }

// Upright is a leg whose link stands vertical at neutral, its arm square to it.
type Upright struct {
	Bearing    units.Angle  `json:"bearing"`
	BallRadius units.Length `json:"ball_radius"`
	Offset     units.Length `json:"offset,omitempty"`
	Arm        units.Length `json:"arm"`
	Link       units.Length `json:"link"`
	Points     swash.Toward `json:"points"` // the way the arm points, from shaft to ball
}

// Spatial is a leg by its true positions.
type Spatial struct {
	Bearing    units.Angle       `json:"bearing"`
	BallRadius units.Length      `json:"ball_radius"`
	Offset     units.Length      `json:"offset,omitempty"`
	Shaft      linkage.Point     `json:"shaft"`
	Axis       linkage.Direction `json:"axis"`
	Neutral    linkage.Direction `json:"neutral"`
	Arm        units.Length      `json:"arm"`
	Link       units.Length      `json:"link"`
}

// Leg implements Shape.
func (u *Upright) Leg(height units.Length) (swash.LegSpec, error) {
	return swash.Upright(swash.Ball{Bearing: u.Bearing, Radius: u.BallRadius, Offset: u.Offset}, height, u.Arm, u.Link, u.Points)
}

// Fields implements Shape.
func (u *Upright) Fields() units.FieldNames {
	fields := units.FieldNames{"toward": ".points"}
	maps.Copy(fields, legFields)
	return fields
}

// Leg implements Shape.
func (s *Spatial) Leg(units.Length) (swash.LegSpec, error) {
	return swash.LegSpec{
		Ball: swash.Ball{Bearing: s.Bearing, Radius: s.BallRadius, Offset: s.Offset},
		Arm:  linkage.ArmSpec{Shaft: s.Shaft, Axis: s.Axis, Neutral: s.Neutral, Radius: s.Arm, Link: s.Link},
	}, nil
}

// Fields implements Shape.
func (s *Spatial) Fields() units.FieldNames {
	fields := units.FieldNames{"Arm.Axis": ".axis", "Arm.Neutral": ".neutral", "Arm.Shaft": ".shaft"}
	maps.Copy(fields, legFields)
	return fields
}

// legFields are those that every shape has.
var legFields = units.FieldNames{
	"Ball.Bearing": ".bearing",
	"Ball.Radius":  ".ball_radius",
	"Ball.Offset":  ".offset",
	"Arm.Radius":   ".arm",
	"Arm.Link":     ".link",
}
