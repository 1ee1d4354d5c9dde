package sheet

import (
	"encoding"
	"fmt"
	"reflect"
	"strings"
	"unicode"

	"example.org/levelhead/units"
)

// fact is what a check finds: a struct for each kind, whose exported fields are the numbers
// behind it and whose unexported ones only choose its words. An embedded Place says where it
// is, and a slice of trims has a number for each of several servos.
type fact interface {
	// finding returns the kind, the severity and the words, and Where for a finding that is
	// about no mode. The zero fact has them too.
	finding() Finding
}

// report makes a finding of a fact.
func report[F fact](f F) Finding {
	found := f.finding()
	units.Tidy(&f)
	found.addData(reflect.ValueOf(f))
	return found
}

// addData adds the data in the exported fields of a fact. Nil pointers are left out.
func (f *Finding) addData(v reflect.Value) {
	for i := range v.NumField() {
		field, value := v.Type().Field(i), v.Field(i)
		if field.Anonymous && field.Type != reflect.TypeFor[Place]() {
			f.addData(value)
			continue
		}
		if !field.IsExported() || value.Kind() == reflect.Pointer && value.IsNil() {
			continue
		}
		switch x := reflect.Indirect(value).Interface().(type) {
		case Place:
			f.At = x
		case []trim:
			for _, t := range x {
				f.Numbers = append(f.Numbers, Number{Name: "sub_trim", Servo: t.Servo, Value: text(t.SubTrim)})
			}
		default:
			f.Numbers = append(f.Numbers, Number{Name: snake(field.Name), Value: text(x)})
		}
	}
}

// text returns a quantity as it marshals, and anything else as it prints.
func text(x any) string {
	if m, ok := x.(encoding.TextMarshaler); ok {
		if text, err := m.MarshalText(); err == nil {
			return string(text)
		}
	}
	return fmt.Sprint(x)
}

// trim is the sub-trim of a servo.
type trim struct {
	Servo   string
	SubTrim units.PulseWidth
}

// snake writes a field's name as JSON has it: "OffSquare" is "off_square".
func snake(name string) string {
	var b strings.Builder
	for i, r := range name {
		if i > 0 && unicode.IsUpper(r) {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// known returns a number that a fact can also be without.
func known[T any](x T) *T { return &x }
