package rotor

import (
	"math"

	"example.org/levelhead/units"
)

// Slopes say how the pitch of the blade in one direction follows the swashplate. They are
// derivatives of the pitch, positive leading edge up.
type Slopes struct {
	Height  float64 // radians per metre of the plate up the mast
	Right   float64 // radians per radian of tilt that lowers the plate's right side
	Forward float64 // radians per radian of tilt that lowers the plate's front
}

// PlateLoad is the load that the blades put on the swashplate, in the frame of the machine:
// x right, y forward, z up.
type PlateLoad struct {
	Force   units.Force  // along the mast, positive up
	Right   units.Torque // tilting moment that would lower the right side
	Forward units.Torque // tilting moment that would lower the front
}

// add adds the moment on the blade at psi, by virtual work. The work of the moment over a
// change of pitch is the work of the load over the change of pose that causes it.
func (l *PlateLoad) add(m Moment, psi units.Angle, slopes func(bearing units.Angle) (Slopes, error)) error {
	if slopes == nil {
		return &units.FieldError{Field: "slopes", Words: "rotor: slopes", Reason: "must not be nil"}
	}
	s, err := slopes(psi)
	if err != nil {
		return err
	}
	moment := m.At(psi)
	if err := firstOf(
		within("m", "moment on a blade (N·m)", moment, -maxTorque, maxTorque),
		within("slopes.Height", "slope with height (rad/m)", s.Height, -maxSlope, maxSlope),
		within("slopes.Right", "slope with tilt right", s.Right, -maxSlope, maxSlope),
		within("slopes.Forward", "slope with tilt forward", s.Forward, -maxSlope, maxSlope),
	); err != nil {
		return err
	}
	l.Force += units.Force(float64(moment) * s.Height)
	l.Right += moment * units.Torque(s.Right)
	l.Forward += moment * units.Torque(s.Forward)
	return nil
}

// maxSlope is the greatest slope accepted: beyond it, the pitch horn is at its dead centre.
const maxSlope = 1e9

// PlateLoad returns the load of all blades on the plate while the first blade points in the
// direction bearing. It needs the moment on each blade, and the slopes of the head in any
// direction. The error is a [*units.FieldError] or that of slopes.
func (r *Rotor) PlateLoad(m Moment, bearing units.Angle, slopes func(bearing units.Angle) (Slopes, error)) (PlateLoad, error) {
	var sum PlateLoad
	if err := within("bearing", "direction of the blade (rad)", bearing, -maxBearing, maxBearing); err != nil {
		return sum, err
	}
	for i := range r.spec.Blades {
		psi := bearing + units.Angle(2*math.Pi*float64(i)/float64(r.spec.Blades))
		if err := sum.add(m, psi, slopes); err != nil {
			return PlateLoad{}, err
		}
	}
	return sum, nil
}

// maxBearing is the greatest direction, of either sign, that is accepted.
const maxBearing = 1000 * units.Radian

// MeanPlateLoad returns the load of all blades on the plate averaged over a
// revolution. The error is a [*units.FieldError] or that of slopes.
func (r *Rotor) MeanPlateLoad(m Moment, slopes func(bearing units.Angle) (Slopes, error)) (PlateLoad, error) {
	var sum PlateLoad
	for i := range bearings {
		if err := sum.add(m, bearing(i), slopes); err != nil {
			return PlateLoad{}, err
		}
	}
	share := float64(r.spec.Blades) / bearings
	return PlateLoad{
		Force:   sum.Force * units.Force(share),
		Right:   sum.Right * units.Torque(share),
		Forward: sum.Forward * units.Torque(share),
	}, nil
}
