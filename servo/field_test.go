package servo_test

import (
	"testing"

	"example.org/levelhead/servo"
	"example.org/levelhead/units/fieldtest"
)

func TestFields(t *testing.T) {
	fieldtest.Check(t, "", plain, func(s servo.Servo) error { return s.Validate() })
	fieldtest.Check(t, "", digital, func(r servo.Rating) error { return r.Validate() })
}
