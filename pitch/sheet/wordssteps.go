package sheet

import "fmt"

// describe says in words what a step changes, by how much, and where it is measured. Where
// servos share the controls, an end point tilts the plate.
func (s *Step) describe(by any, shared bool) {
	switch s.Adjust {
	case AdjustRate:
		s.What = fmt.Sprintf("%s rate, %v more", s.Of, by)
	case AdjustLink:
		s.What = s.Of + ", half a turn longer"
	case AdjustTooth:
		s.What = s.Of + " servo arm, one tooth up"
	case AdjustSubTrim:
		s.What = fmt.Sprintf("%s servo sub-trim, %v more", s.Of, by)
	case AdjustEndPoint:
		s.What = fmt.Sprintf("%s servo end points, %v more", s.Of, by)
		if shared {
			s.What += " (tilts the plate; do not set pitch with it)"
		}
	}
	switch at := s.Stick.Plain(); at.Collective {
	case midStick.Collective:
		s.At = "mid stick"
		if at != midStick {
			s.At += ", " + at.Cyclic()
		}
	default:
		s.At = "high stick"
	}
}
