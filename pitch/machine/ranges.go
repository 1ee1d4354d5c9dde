package machine

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.org/levelhead/units"
)

// span is the least and the greatest value that a field may have, in SI units, and why.
// They are generous, and our own: no model helicopter that we know of comes near them.
// What is outside is a slip of the unit or of a digit.
type span struct {
	field           string // the end of its path, without indices
	least, greatest float64
	why             string
}

const (
	mm  = float64(units.Millimetre)
	deg = float64(units.Degree)
	us  = float64(units.PulseMicrosecond)
	pct = float64(units.Percent)
	rpm = 2 * math.Pi / 60
)

// spans holds all fields of numbers. The longest end of a path that is here counts.
var spans = []span{
	{"neutral_height", 1 * mm, 1000 * mm, "from the drawing's zero to the plate of the largest models"},
	{"guide", -360 * deg, 720 * deg, "a turn either way of 0° to 360°"},
	{"bearing", -360 * deg, 720 * deg, "a turn either way of 0° to 360°"},
	{"blade_bearing", -360 * deg, 720 * deg, "a turn either way of 0° to 360°"},
	{"phase", -360 * deg, 720 * deg, "a turn either way of 0° to 360°"},
	{"ring_driver", -360 * deg, 720 * deg, "a turn either way of 0° to 360°"},
	{"ball_radius", 1 * mm, 300 * mm, "a plate larger than a hand is none of a model"},
	{"offset", -100 * mm, 100 * mm, "a ball stands near its plate"},
	{"ring_offset", -100 * mm, 100 * mm, "a ball stands near its ring"},
	{"arm", 0.5 * mm, 300 * mm, "from the innermost hole of the smallest arm"},
	{"radius", 0.5 * mm, 300 * mm, "from the innermost hole of the smallest crank"},
	{"arm_holes[]", 0.5 * mm, 300 * mm, "from the innermost hole of the smallest arm"},
	{"link", 1 * mm, 2000 * mm, "from two ball links that touch to a tail's rod"},
	{"x", -5000 * mm, 5000 * mm, "within the largest models"},
	{"y", -5000 * mm, 5000 * mm, "within the largest models"},
	{"z", -5000 * mm, 5000 * mm, "within the largest models"},
	{"axis.x", -1000, 1000, "a direction, whose length does not matter"},
	{"axis.y", -1000, 1000, "a direction, whose length does not matter"},
	{"axis.z", -1000, 1000, "a direction, whose length does not matter"},
	{"neutral.x", -1000, 1000, "a direction, whose length does not matter"},
	{"neutral.y", -1000, 1000, "a direction, whose length does not matter"},
	{"neutral.z", -1000, 1000, "a direction, whose length does not matter"},
	{"along.x", -1000, 1000, "a direction, whose length does not matter"},
	{"along.y", -1000, 1000, "a direction, whose length does not matter"},
	{"along.z", -1000, 1000, "a direction, whose length does not matter"},
	{"lever.ratio", -100, 100, "a lever, not a gear"},
	{"lever.radius", -300 * mm, 300 * mm, "a lever of a model"},

	{"sub_trim", -1000 * us, 1000 * us, "no radio trims by more than a servo's whole pulse"},
	{"mount", -180 * deg, 180 * deg, "half a turn either way is all there is"},
	{"low_end_point", 0, 300 * pct, "no radio scales a servo's throw by more"},
	{"high_end_point", 0, 300 * pct, "no radio scales a servo's throw by more"},
	{"link_stiffness", 10, 1e10, "from rubber to steel, in N/m"},
	{"mount_stiffness", 10, 1e10, "from rubber to steel, in N/m"},
	{"servos.*.neutral", 100 * us, 20000 * us, "from the narrowest pulses to a whole slow frame"},
	{"throw", 10 * us, 2000 * us, "of a pulse that is longer itself"},
	{"travel", 1 * deg, 180 * deg, "an arm that moves, by no more than half a turn to a side"},
	{"shortest_pulse", 10 * us, 20000 * us, "from the narrowest pulses to a whole slow frame"},
	{"longest_pulse", 10 * us, 20000 * us, "from the narrowest pulses to a whole slow frame"},
	{"spline_teeth", 6, 100, "fewer are no spline, and more cannot be cut on a servo's shaft"},
	{"rating.points[].voltage", 1, 60, "a servo's supply, in V"},
	{"stall", 0.001, 200, "from the smallest servo to a winch, in N·m"},
	{"rating.points[].speed", 0.1, 300, "slower is no servo, and faster is a motor, in rad/s"},
	{"deadband", 0, 100 * us, "more is a broken servo"},
	{"full_torque_at", 0.001 * deg, 45 * deg, "an error in which a servo is at full torque"},
	{"frame", 0.0002, 0.2, "of pulses that a servo still follows, in s"},

	{"pulse_step", 0.001 * us, 100 * us, "finer or coarser steps are no radio's"},
	{"percent_step", 0.01 * pct, 25 * pct, "of a rate that can be set at all"},
	{"rate_limit", 1 * pct, 500 * pct, "no radio takes more"},
	{"mix_rows[].collective", -500 * pct, 500 * pct, "no radio takes more"},
	{"mix_rows[].right", -500 * pct, 500 * pct, "no radio takes more"},
	{"mix_rows[].forward", -500 * pct, 500 * pct, "no radio takes more"},

	{"horn_radius", 1 * mm, 300 * mm, "a blade's horn of a model"},
	{"horn_from_mast", -300 * mm, 300 * mm, "a blade's horn of a model"},
	{"hub_height", 1 * mm, 2000 * mm, "of a mast of a model"},
	{"rest_angle", -90 * deg, 90 * deg, "beyond that the horn has changed its side"},
	{"ring_radius", 1 * mm, 300 * mm, "a ring of a model"},
	{"plate_side", -300 * mm, 300 * mm, "an arm of a model"},
	{"bar_side", -300 * mm, 300 * mm, "an arm of a model"},
	{"bar_radius", -300 * mm, 300 * mm, "an arm of a model"},
	{"washout_in", -300 * mm, 300 * mm, "an arm of a model"},
	{"washout_out", -300 * mm, 300 * mm, "an arm of a model"},

	{"gauge.low", -90 * deg, 90 * deg, "a gauge of pitch"},
	{"gauge.high", -90 * deg, 90 * deg, "a gauge of pitch"},
	{"gauge.step", 0.001 * deg, 10 * deg, "a coarser one shows nothing"},
	{"limits.tilt", 0, 45 * deg, "a plate is followed no further"},
	{"limits.off_square", 0, 90 * deg, "the whole of it"},
	{"limits.ball_link_angle", 0, 90 * deg, "the whole of it"},
	{"limits.dead_centre", 0, 90 * deg, "the whole of it"},
	{"limits.least_use", 0, 1000 * pct, "a limit above what there is limits nothing"},
	{"limits.live_above", 0, 100 * pct, "the whole of it"},
	{"limits.pitch_error", 0, 90 * deg, "the whole of it"},
	{"limits.strain", 0, 100 * mm, "no link stretches by more"},
	{"limits.servo_load", 0, 1000 * pct, "a limit above the stall torque limits nothing"},
	{"limits.stroke", 0, 60, "a minute, in s"},
	{"limits.tip_speed", 0, 1000, "beyond sound, in m/s"},
	{"play.ball", 0, 1 * mm, "more is not play"},
	{"play.gear", 0, 5 * deg, "more is not play"},
	{"play.bearing", 0, 1 * mm, "more is not play"},
	{"servo_voltage", 1, 60, "a servo's supply, in V"},

	{"blades", 1, 12, "of a rotor"},
	{"rotor.radius", 30 * mm, 10000 * mm, "from the smallest rotor to more than a model's"},
	{"root", 0, 5000 * mm, "of a blade of such a rotor"},
	{"chord", 1 * mm, 2000 * mm, "of a blade of such a rotor"},
	{"taper", 0, 1000 * pct, "of a blade"},
	{"twist", -90 * deg, 90 * deg, "of a blade"},
	{"feathering_axis", 0, 100 * pct, "within the chord"},
	{"blade_mass", 1e-5, 20, "from a hundredth of a gram"},
	{"thickness", 0, 100 * pct, "of the chord"},
	{"chordwise_inertia", 0, 100, "of a blade of such a mass, in kg·m²"},
	{"damper", 0, 1000, "of a model, in N·m"},
	{"lift_slope", 0.1, 20, "three times that of a thin section"},
	{"zero_lift", -45 * deg, 45 * deg, "of a section"},
	{"stall_lift", 0.01, 10, "of a section"},
	{"drag", 0, 10, "of a section"},
	{"drag_rise", 0, 100, "of a section"},
	{"moment", -10, 10, "of a section"},
	{"max_speed", 1 * rpm, 100000 * rpm, "of a model's rotor"},

	{"gear.ratio", 0.01, 1000, "of a train of gears"},
	{"efficiency", 1 * pct, 100 * pct, "no gear gives more than it gets"},
	{"speed_per_volt", 1 * rpm, 1e6 * rpm, "of a motor"},
	{"motor.resistance", 0, 1000, "of a motor, in Ω"},
	{"no_load", 0, 1000, "of a motor, in A"},
	{"max_current", 0.001, 10000, "of a motor or a battery, in A"},
	{"cells", 1, 200, "of a battery"},
	{"battery.resistance", 0, 1000, "of a battery, in Ω"},
	{"cell[].charge", 0, 100 * pct, "from empty to full"},
	{"cell[].voltage", 0.1, 10, "of one cell, in V"},
	{"land_at", 0, 100 * pct, "from empty to full"},
	{"engine[].speed", 1 * rpm, 200000 * rpm, "of an engine"},
	{"engine[].power", 0, 1e6, "of an engine, in W"},
	{"mass", 1e-3, 100, "of a model, in kg"},
	{"field.height", -500, 9000, "on land, in m"},
	{"temperature", 200, 340, "where people fly, in K"},

	{"rates.collective", -500 * pct, 500 * pct, "no radio takes more"},
	{"rates.right", -500 * pct, 500 * pct, "no radio takes more"},
	{"rates.forward", -500 * pct, 500 * pct, "no radio takes more"},
	{"expo", -100 * pct, 100 * pct, "the whole of it"},
	{"pitch.points[][]", -500 * pct, 500 * pct, "no radio takes more"},
	{"throttle.points[][]", -500 * pct, 500 * pct, "no radio takes more"},
	{"throttle_hold", -500 * pct, 500 * pct, "no radio takes more"},
	{"targets.collective[].stick", 0, 100 * pct, "from end to end"},
	{"targets.collective[].pitch", -90 * deg, 90 * deg, "a blade on edge"},
	{"targets.cyclic", -90 * deg, 90 * deg, "a blade on edge"},
	{"rotor_speed", 1 * rpm, 100000 * rpm, "of a model's rotor"},
}

// orNone are the fields whose 0 stands for none, and is taken too.
var orNone = map[string]bool{"pulse_step": true, "gauge.step": true}

// byField holds the spans by their fields.
var byField = func() map[string]span {
	by := make(map[string]span, len(spans))
	for _, s := range spans {
		by[s.field] = s
	}
	return by
}()

// spanOf returns the span of the field with a path, without indices.
func spanOf(path string) (s span, ok bool) {
	for more := true; more && !ok; _, path, more = strings.Cut(path, ".") {
		s, ok = byField[path]
	}
	return s, ok
}

// RangeError reports a number of a machine file that is outside the range of its field.
// It is the cause of a *FieldError, which names the field.
type RangeError struct {
	Value, Least, Greatest string  // with units, as a sheet prints them
	Why                    string  // the range is that, in a few words; not in the error's text
	Excess                 float64 // beyond the nearer end, in SI units; NaN for what is no number
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("must be from %s to %s, not %s", e.Least, e.Greatest, e.Value)
}

// checkRanges refuses the first number that is outside its field's range, or is none.
func (m *Machine) checkRanges() error {
	return m.walk(reflect.ValueOf(m).Elem(), "", "", func(v reflect.Value, path, field string) error {
		s, ok := spanOf(field)
		if !ok {
			return nil
		}
		var x float64
		if v.CanInt() {
			x = float64(v.Int())
		} else {
			x = v.Float()
		}
		if x >= s.least && x <= s.greatest || orNone[s.field] && x == 0 {
			return nil
		}
		say := func(x float64) string {
			if v.CanInt() {
				return strconv.FormatFloat(x, 'f', 0, 64)
			}
			q := reflect.New(v.Type()).Elem()
			q.SetFloat(x)
			return fmt.Sprint(q.Interface())
		}
		err := &RangeError{say(x), say(s.least), say(s.greatest), s.why, math.Max(s.least-x, x-s.greatest)}
		return m.Fault(path, err.Error(), err)
	})
}

// walk calls visit with every number of a value, its path, and that without indices.
func (m *Machine) walk(v reflect.Value, path, field string, visit func(v reflect.Value, path, field string) error) error {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		return m.walk(v.Elem(), path, field, visit)
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if err := m.walk(v.Index(i), path+"["+strconv.Itoa(i)+"]", field+"[]", visit); err != nil {
				return err
			}
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			if err := m.walk(v.MapIndex(key), path+"."+key.String(), field+".*", visit); err != nil {
				return err
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() {
				continue
			}
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name == "" {
				name = strings.ToLower(f.Name)
			}
			if err := m.walk(v.Field(i), strings.TrimPrefix(path+"."+name, "."), strings.TrimPrefix(field+"."+name, "."), visit); err != nil {
				return err
			}
		}
	default:
		if v.CanFloat() || v.CanInt() {
			return visit(v, path, field)
		}
	}
	return nil
}
