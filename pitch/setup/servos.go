package setup

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// RigServo is one servo of a rig.
type RigServo struct {
	Name string       // of its leg or function
	Type ServoType    // what it has in common with others
	Arm  units.Length // radius of its arm; 0 where it has none
	Spec ServoOfALeg
}

// addServo builds the servo described at path.
func (r *Rig) addServo(path, name string, spec ServoOfALeg, arm units.Length) error {
	driven, err := r.Machine.servo(path, spec)
	if err != nil {
		return err
	}
	r.Servos = append(r.Servos, RigServo{name, r.Machine.Servos[spec.Type], arm, spec})
	r.parts.Servos = append(r.parts.Servos, driven)
	return nil
}

// quoted lists names.
func quoted(names []string) string {
	for i, name := range names {
		names[i] = strconv.Quote(name)
	}
	return strings.Join(names, ", ")
}

func (m *Machine) servo(path string, mounted ServoOfALeg) (servo.Servo, error) {
	kind, ok := m.Servos[mounted.Type]
	if !ok {
		return servo.Servo{}, m.fail(path+".type", "%q is not a type under servos; the types are %s", mounted.Type, quoted(slices.Sorted(maps.Keys(m.Servos))))
	}
	s := servo.Servo{
		Neutral: kind.Neutral,
		Throw:   kind.Throw,
		Travel:  kind.Travel,
		Mount:   mounted.Mount,
		Reverse: mounted.Reverse,
		SubTrim: mounted.SubTrim,
		Low:     orFull(mounted.Low),
		High:    orFull(mounted.High),
		Step:    m.Radio.PulseStep,
		Min:     kind.Min,
		Max:     kind.Max,
	}
	switch mounted.Raises {
	case LongerPulses:
	case ShorterPulses:
		s.Travel = -s.Travel
	default:
		return s, m.fail(path+".raises_on", "must be %q or %q, not %q", LongerPulses, ShorterPulses, mounted.Raises)
	}
	typePath := join("servos", mounted.Type)
	if !(kind.Travel > 0) {
		return s, m.fail(typePath+".travel", "must be above zero, not %v", kind.Travel)
	}
	if kind.Spline < 1 {
		return s, m.fail(typePath+".spline_teeth", "must be 1 or more, not %d", int(kind.Spline))
	}
	for k, hole := range kind.ArmHoles {
		if !(hole > 0) || !units.Finite(hole) {
			return s, m.fail(fmt.Sprintf("%s.arm_holes[%d]", typePath, k), "must be above zero, not %v", hole)
		}
	}
	if err := s.Validate(); err != nil {
		field := (*units.FieldError)(nil)
		if errors.As(err, &field) {
			return s, m.blameField(map[string]string{
				"Neutral": typePath + ".neutral",
				"Throw":   typePath + ".throw",
				"Travel":  typePath + ".travel",
				"Min":     typePath + ".shortest_pulse",
				"Max":     typePath + ".longest_pulse",
				"Mount":   path + ".mount",
				"SubTrim": path + ".sub_trim",
				"Low":     path + ".low_end_point",
				"High":    path + ".high_end_point",
				"Step":    "radio.pulse_step",
			}[field.Field], err)
		}
		return s, m.blame(path, err)
	}
	return s, nil
}

// orFull returns a ratio that may be left out, which then is 100 %.
func orFull(r *units.Ratio) units.Ratio {
	if r == nil {
		return 1
	}
	return *r
}

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
		path := join("servos", name) + ".rating"
		rating := given.Servo()
		if err := rating.Validate(); err != nil {
			field, _ := fieldOf(ratingFields, err)
			return m.blameField(path+field, err)
		}
		if m.ServoVoltage == nil {
			return m.fail("servo_voltage", "missing field; the rating of servo type %q needs it", name)
		}
	}
	return nil
}
