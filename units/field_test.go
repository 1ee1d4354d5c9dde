package units_test

import (
	"errors"
	"fmt"
	"io"
	"testing"

	"example.org/levelhead/units"
)

var words = units.FieldNames{"Throw": "throw", "Points[].Stall": "point %d: stall torque", "Legs[]": "leg %d"}

func TestFieldError(t *testing.T) {
	stall := words.Refuse("Points[2].Stall", "must be more than %d", 0)
	stall.Err = io.EOF
	for _, c := range []struct {
		err         error
		field, text string
	}{
		{words.Refuse("Throw", "must be above %v", 0), "Throw", "throw must be above 0"},
		{words.Refuse("Travel", "must be above %v", 0), "Travel", "Travel must be above 0"},
		{&units.FieldError{Field: "Low", Reason: "is 3"}, "Low", "Low is 3"},
		{stall, "Points[2].Stall", "point 3: stall torque must be more than 0"},
		{units.In("Servos[1]", "servo 2: ", stall), "Servos[1].Points[2].Stall", "servo 2: point 3: stall torque must be more than 0"},
		{units.In("Rig", "rig: ", units.In("Servos[1]", "servo 2: ", stall)), "Rig.Servos[1].Points[2].Stall", "rig: servo 2: point 3: stall torque must be more than 0"},
		{units.In("", "servo: ", stall), "Points[2].Stall", "servo: point 3: stall torque must be more than 0"},
		{units.In("mix", "", &units.FieldError{Field: "[1].Right", Reason: "is 3"}), "mix[1].Right", "[1].Right is 3"},
		{units.In("Thread", "", &units.FieldError{Words: "thread", Reason: "is none"}), "Thread", "thread is none"},
		{units.In("Guide", "guide ", io.EOF), "Guide", "guide EOF"},
		{units.In("Guide", "guide ", fmt.Errorf("odd: %w", stall)), "Guide", "guide odd: point 3: stall torque must be more than 0"},
	} {
		var field *units.FieldError
		if !errors.As(c.err, &field) || field.Field != c.field || c.err.Error() != c.text {
			t.Errorf("%q of %+v, want %q of %q", c.err, field, c.text, c.field)
		}
		if named := c.field[max(0, len(c.field)-5):] == "Stall"; named && !errors.Is(c.err, io.EOF) {
			t.Errorf("%v has lost its cause", c.err)
		}
	}
	if stall.Field != "Points[2].Stall" {
		t.Errorf("In has changed what it was given: %+v", stall)
	}
	if err := units.In("Guide", "guide ", nil); err != nil {
		t.Errorf("nil: %v", err)
	}
}

func TestFieldNames(t *testing.T) {
	names := units.FieldNames{"Points": ".points", "Points[]": ".points[%d]", "Legs[].Arms[].Link": ".legs[%d].arms[%d].link"}
	for field, want := range map[string][2]string{
		"Points":                {".points", ""},
		"Points[3]":             {".points[3]", ""},
		"Points[12].Stall":      {".points[12]", ".Stall"},
		"Legs[2].Arms[1].Link":  {".legs[2].arms[1].link", ""},
		"Legs[2].Arms[1].Links": {"", "Legs[2].Arms[1].Links"},
		"Pointless":             {"", "Pointless"},
		"":                      {"", ""},
	} {
		if name, inside := names.Of(field, 0); name != want[0] || inside != want[1] {
			t.Errorf("%q: %q and %q, want %q", field, name, inside, want)
		}
	}
	if name, _ := names.Of("Points[0]", 1); name != ".points[1]" {
		t.Errorf("counted from 1: %q", name)
	}
}
