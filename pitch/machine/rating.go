package machine

import (
	"maps"
	"slices"

	"example.org/levelhead/pitch/internal/fieldpath"
	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// Rating is what a servo type's maker says it can do, as in servo.Rating.
type Rating struct {
	Points       []RatingPoint    `json:"points"` // one or more, by rising voltage
	Deadband     units.PulseWidth `json:"deadband"`
	FullTorqueAt units.Angle      `json:"full_torque_at"`
	Frame        units.Time       `json:"frame"`
}

// RatingPoint is a rating at one voltage.
type RatingPoint struct {
	Voltage units.Voltage      `json:"voltage"`
	Stall   units.Torque       `json:"stall"`
	Speed   units.AngularSpeed `json:"speed"` // without load, such as "0.1 s/60°"
}

// Servo returns the rating for package servo.
func (r *Rating) Servo() servo.Rating {
	rating := servo.Rating{Deadband: r.Deadband, FullTorqueAt: r.FullTorqueAt, Frame: r.Frame}
	for _, p := range r.Points {
		rating.Points = append(rating.Points, servo.RatingPoint(p))
	}
	return rating
}

// ratingFields are the fields of a rating by those of a servo.Rating.
var ratingFields = units.FieldNames{
	"Points": ".points", "Points[]": ".points[%d]", "Deadband": ".deadband", "FullTorqueAt": ".full_torque_at", "Frame": ".frame",
}

// checkRatings refuses ratings that cannot be worked with.
func (m *Machine) checkRatings() error {
	if v := m.ServoVoltage; v != nil && !(*v > 0 && units.Finite(*v)) {
		return m.fail("servo_voltage", "must be above zero, not %v", *v)
	}
	for _, name := range slices.Sorted(maps.Keys(m.Servos)) {
		given := m.Servos[name].Rating
		if given == nil {
			continue
		}
		path := fieldpath.Join("servos", name) + ".rating"
		rating := given.Servo()
		if err := rating.Validate(); err != nil {
			field, _ := words.Field(ratingFields, err)
			path += field
			return m.Fault(path, words.Reason(err), err)
		}
		if m.ServoVoltage == nil {
			return m.fail("servo_voltage", "missing field; the rating of servo type %q needs it", name)
		}
	}
	return nil
}
