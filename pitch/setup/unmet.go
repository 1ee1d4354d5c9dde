package setup

import (
	"errors"

	"example.org/levelhead/pitch/machine"
)

// UnmetText says in words why the mode's targets cannot be met; "" where they can be.
func (s Setup) UnmetText() string {
	var target *TargetError
	var field *machine.FieldError
	switch err := s.Unmet(); {
	case errors.As(err, &target):
		return target.Error()
	case errors.As(err, &field):
		return field.Reason
	}
	return ""
}
