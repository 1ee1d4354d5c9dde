// Package words holds what several packages say in the same words.
package words

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Reason returns what an error says of a field, without the field's name.
func Reason(err error) string {
	var (
		link  *linkage.SpecError
		plate *swash.SpecError
		grip  *pitch.SpecError
		field *servo.FieldError
	)
	switch {
	case errors.As(err, &link):
		return link.Reason
	case errors.As(err, &field):
		return field.Reason
	case errors.As(err, &plate):
		return plate.Reason
	case errors.As(err, &grip):
		return grip.Reason
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
