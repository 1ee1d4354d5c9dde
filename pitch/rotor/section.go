package rotor

import "example.org/levelhead/units"

// Section holds the data of a blade section. Lift rises with the angle of attack
// as a straight line up to the stall limit and stays there; past it, on either
// side, only the drag rises. Angles of attack count from zero lift:
//
//	lift    = LiftSlope (attack - ZeroLift), held within ±StallLift
//	drag    = Drag + DragRise (attack - ZeroLift)²
//	moment  = Moment, about the quarter chord
type Section struct {
	LiftSlope float64     // per radian
	ZeroLift  units.Angle // angle of attack without lift; 0 for a symmetric section
	StallLift float64     // greatest lift coefficient, of either sign
	Drag      float64     // drag coefficient without lift
	DragRise  float64     // per square radian
	Moment    float64     // moment coefficient, positive raises the leading edge; 0 for a symmetric section
}

// NACA0015 returns the data of a symmetric section at the Reynolds number of a
// model blade, 242,000: lift slope and drag as M. Knight and R. A. Hefner give
// them for NACA 0015 in NACA TN 626 (1937), and as stall limit the mean of the
// four greatest lift coefficients, two of each sign, in their Tables V and VI.
func NACA0015() Section {
	return Section{LiftSlope: 5.75, StallLift: 0.930, Drag: 0.0113, DragRise: 1.25}
}

func (s Section) validate() error {
	return firstOf(
		within("LiftSlope", "section: lift slope (1/rad)", s.LiftSlope, 0.1, 20),
		within("ZeroLift", "section: zero lift (rad)", s.ZeroLift, -20*units.Degree, 20*units.Degree),
		within("StallLift", "section: stall lift", s.StallLift, 0.01, 10),
		within("Drag", "section: drag", s.Drag, 0, 1),
		within("DragRise", "section: drag rise (1/rad²)", s.DragRise, 0, 100),
		within("Moment", "section: moment", s.Moment, -1, 1),
	)
}

// lift returns the lift coefficient at an angle of attack counted from zero lift,
// in radians, and its slope.
func (s *Section) lift(attack float64) (cl, slope float64) {
	cl = s.LiftSlope * attack
	switch {
	case cl > s.StallLift:
		return s.StallLift, 0
	case cl < -s.StallLift:
		return -s.StallLift, 0
	}
	return cl, s.LiftSlope
}

// drag returns the drag coefficient at an angle of attack counted from zero lift,
// in radians.
func (s *Section) drag(attack float64) float64 { return s.Drag + s.DragRise*attack*attack }
