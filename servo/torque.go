package servo

import (
	"math"

	"example.org/levelhead/units"
)

// deadCentre is the lever, as a part of the arm's radius, below which a link
// counts as at its dead centre.
const deadCentre = 1e-9

// Lever returns the lever of a link about the shaft: the torque at the shaft
// is the force along the link times this length.
//
// The angle between is from the arm to the link, both seen along the shaft; 90° is square.
// The angle out is that by which the link tilts out of the plane in which the arm turns. The
// lever is radius sin(between) cos(out): the whole radius only for a square arm whose link
// lies in that plane. Its sign is that of sin(between).
func Lever(radius units.Length, between, out units.Angle) units.Length {
	return radius * units.Length(math.Sin(float64(between))*math.Cos(float64(out)))
}

// Torque returns the torque at the shaft for a force along the link, with the
// angles of Lever. It has the sign of the force times that of the lever. Friction and the
// arm's own weight are not in it.
func Torque(force units.Force, radius units.Length, between, out units.Angle) units.Torque {
	return units.Torque(float64(force) * float64(Lever(radius, between, out)))
}

// HoldingForce returns the force along the link that a servo of
// the given stall torque can just hold, never negative, with the angles of Lever. At a dead
// centre it could hold any force, and the error is a *DeadCentreError. A
// radius or torque that is not more than 0 is a *units.FieldError.
func HoldingForce(stall units.Torque, radius units.Length, between, out units.Angle) (units.Force, error) {
	if !(stall > 0) || !units.Finite(stall) {
		return 0, words.Refuse("stall", "must be more than 0 N·m, not %v", stall)
	}
	if !(radius > 0) || !units.Finite(radius) {
		return 0, words.Refuse("radius", "must be more than 0 mm, not %v", radius)
	}
	lever := units.Length(math.Abs(float64(Lever(radius, between, out))))
	if !(lever > deadCentre*radius) {
		return 0, &DeadCentreError{lever}
	}
	return units.Force(float64(stall) / float64(lever)), nil
}
