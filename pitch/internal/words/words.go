// Package words holds what several packages say in the same words.
package words

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/units"
)

// Field returns the name that names have for the Go field that err speaks of, with indices
// from 0, and whether it is that of the field itself. It is "" where there is none.
func Field(names units.FieldNames, err error) (name string, itself bool) {
	var field *units.FieldError
	if !errors.As(err, &field) {
		return "", false
	}
	name, inside := names.Of(field.Field, 0)
	return name, inside == ""
}

// Reason returns what an error says of a field, without the field's name.
func Reason(err error) string {
	if field := (*units.FieldError)(nil); errors.As(err, &field) {
		return field.Reason
	}
	return Plain(err)
}

// Plain returns an error's words without the names of our packages.
func Plain(err error) string {
	var words []string
	for _, word := range strings.Split(err.Error(), ": ") {
		switch word {
		case "swash", "pitch", "rotor", "servo", "linkage", "curve", "units":
		default:
			words = append(words, word)
		}
	}
	return strings.Join(words, ": ")
}

// Direction says where a bearing from the nose points: "tail (180°)".
func Direction(bearing units.Angle) string {
	names := [...]string{"nose", "right front", "right side", "right rear", "tail", "left rear", "left side", "left front"}
	degrees := math.Mod(math.Round(bearing.Degrees())+720, 360)
	return fmt.Sprintf("%s (%.0f°)", names[int(math.Round(degrees/45))%len(names)], degrees)
}
