package machine

import (
	"fmt"
	"reflect"
	"strings"
)

// ChoiceError reports a part of a machine file that must give one of several fields, and gives
// none of them or more than one.
type ChoiceError struct {
	Fields []string // of which one must be given
	Given  []string // none, or two and more
}

func (e *ChoiceError) Error() string {
	return "must have exactly one of " + list(e.Fields, "and")
}

// Both says the same by what is given: "has both upright and spatial; give one of them".
func (e *ChoiceError) Both() string {
	if len(e.Given) == 0 {
		return "has neither " + strings.Join(e.Fields, " nor ") + "; give one of them"
	}
	return "has both " + list(e.Given, "and") + "; give one of them"
}

// list says words one after another: "a, b and c".
func list(words []string, and string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return fmt.Sprintf("%s %s %s", strings.Join(words[:last], ", "), and, words[last])
}

// choose returns the one given of a struct's fields that can be left out and are pointers to a
// T, and its name in the file. Where none is given, or more than one, the error is a
// *ChoiceError.
func choose[T any](from any) (field string, chosen T, err error) {
	var c ChoiceError
	v := reflect.ValueOf(from)
	for i := range v.NumField() {
		name, options, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		one, ok := v.Field(i).Interface().(T)
		if !ok || options != "omitempty" || v.Field(i).Kind() != reflect.Pointer {
			continue
		}
		c.Fields = append(c.Fields, name)
		if !v.Field(i).IsNil() {
			c.Given = append(c.Given, name)
			field, chosen = name, one
		}
	}
	if len(c.Given) != 1 {
		var none T
		return "", none, &c
	}
	return field, chosen, nil
}
