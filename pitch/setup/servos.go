package setup

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.org/levelhead/pitch/internal/fieldpath"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// Servo is one servo of a rig.
type Servo struct {
	Name string            // of its leg or function
	Type machine.ServoType // what it has in common with others
	Arm  units.Length      // radius of its arm; 0 where it has none
	Spec machine.ServoOfALeg
	// Control is what the servo moves by itself, such as "right cyclic"; "" where the servos
	// share the controls.
	Control string
}

// addServo builds the servo described at path.
func (r *Rig) addServo(path, name string, spec machine.ServoOfALeg, arm units.Length) error {
	driven, err := servoOf(r.file, path, spec)
	if err != nil {
		return err
	}
	r.servos = append(r.servos, Servo{Name: name, Type: r.file.Servos[spec.Type], Arm: arm, Spec: spec})
	r.parts.Servos = append(r.parts.Servos, driven)
	r.parts.names = append(r.parts.names, name)
	return nil
}

// quoted lists names.
func quoted(names []string) string {
	for i, name := range names {
		names[i] = strconv.Quote(name)
	}
	return strings.Join(names, ", ")
}

func servoOf(m *machine.Machine, path string, mounted machine.ServoOfALeg) (servo.Servo, error) {
	kind, ok := m.Servos[mounted.Type]
	if !ok {
		return servo.Servo{}, fail(m, path+".type", "%q is not a type under servos; the types are %s", mounted.Type, quoted(slices.Sorted(maps.Keys(m.Servos))))
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
	case machine.LongerPulses:
	case machine.ShorterPulses:
		s.Travel = -s.Travel
	default:
		return s, fail(m, path+".raises_on", "must be %q or %q, not %q", machine.LongerPulses, machine.ShorterPulses, mounted.Raises)
	}
	typePath := fieldpath.Join("servos", mounted.Type)
	if !(kind.Travel > 0) {
		return s, fail(m, typePath+".travel", "must be above zero, not %v", kind.Travel)
	}
	if kind.Spline < 1 {
		return s, fail(m, typePath+".spline_teeth", "must be 1 or more, not %d", int(kind.Spline))
	}
	for k, hole := range kind.ArmHoles {
		if !(hole > 0) || !units.Finite(hole) {
			return s, fail(m, fmt.Sprintf("%s.arm_holes[%d]", typePath, k), "must be above zero, not %v", hole)
		}
	}
	if err := s.Validate(); err != nil {
		field := (*units.FieldError)(nil)
		if errors.As(err, &field) {
			return s, blameField(m, map[string]string{
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
		return s, blame(m, path, err)
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
