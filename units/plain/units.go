package plain

import (
	"reflect"
	"strings"

	"example.org/levelhead/units"
)

// suffixes are the endings of keys by the symbols of units.
var suffixes = map[string]string{
	"°": "deg", "rpm": "rpm", "mm": "mm", "m/s": "m_per_s", "g": "g", "g·cm²": "g_cm2", "s": "s", "µs": "us",
	"N": "N", "N·m": "Nm", "N/mm": "N_per_mm", "V": "V", "A": "A", "mΩ": "mOhm", "W": "W", "%": "percent",
}

// quantities are the types that `plain:"as=..."` can name.
var quantities = map[string]reflect.Type{
	"angle": of[units.Angle](), "angular speed": of[units.AngularSpeed](), "length": of[units.Length](), "velocity": of[units.Velocity](),
	"mass": of[units.Mass](), "inertia": of[units.Inertia](), "time": of[units.Time](), "pulse width": of[units.PulseWidth](),
	"force": of[units.Force](), "torque": of[units.Torque](), "stiffness": of[units.Stiffness](), "voltage": of[units.Voltage](),
	"current": of[units.Current](), "resistance": of[units.Resistance](), "power": of[units.Power](), "ratio": of[units.Ratio](),
}

func of[T any]() reflect.Type { return reflect.TypeFor[T]() }

// Suffix returns how keys of a quantity end, such as "deg" for an angle.
func Suffix[Q units.Quantity]() string { return suffix(of[Q]()) }

// suffix returns how keys of a type end: of a quantity, or of pointers to one, lists of one and
// maps to one, however deep. It is "" for all others.
func suffix(t reflect.Type) string {
	for {
		if own(t) {
			return ""
		}
		if _, symbol, ok := units.Written(reflect.Zero(t).Interface()); ok {
			return suffixes[symbol]
		}
		switch t.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			if t = t.Elem(); t.Kind() == reflect.Interface {
				return ""
			}
		default:
			return ""
		}
	}
}

// key returns a stem with the unit's ending.
func key(stem, suffix string) string {
	if suffix == "" {
		return stem
	}
	return stem + "_" + suffix
}

// snake returns a name of Go in small letters with underscores: "OffSquare" is "off_square".
func snake(name string) string { return strings.Join(wordsOf(name), "_") }

// wordsOf returns the words of a name of Go, in small letters. Capitals that stand together are
// one word: "RMS", and "ID" in "ModeID".
func wordsOf(name string) []string {
	var words []string
	runes := []rune(name)
	start := 0
	upper := func(i int) bool {
		return i >= 0 && i < len(runes) && strings.ToLower(string(runes[i])) != string(runes[i])
	}
	for i := 1; i <= len(runes); i++ {
		if i == len(runes) || upper(i) && (!upper(i-1) || i+1 < len(runes) && !upper(i+1)) {
			words = append(words, strings.ToLower(string(runes[start:i])))
			start = i
		}
	}
	return words
}
