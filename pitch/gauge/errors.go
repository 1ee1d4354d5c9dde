package gauge

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// words are what fields are called in errors.
var words = units.FieldNames{
	"Of": "quantity", "Blade": "blade", "Bearing": "bearing", "Servo": "servo", "Mode": "mode",
	"Stick": "stick", "Stick.Collective": "stick, collective", "Stick.Right": "stick, right", "Stick.Forward": "stick, forward",
	"Gauge": "gauge", "Value": "value", "Builds": "builds", "Workers": "workers",
	"Name": "name", "Measures": "measures", "Step": "step", "Zero": "zero", "Repeat": "repeat", "High": "scale",
	"tolerances.ServoCentre": "tolerance of the servo centre", "tolerances.ServoTravel": "tolerance of the servo travel",
	"tolerances.EndPoint": "tolerance of the low end point", "tolerances.ArmRadius": "tolerance of the servo arm radius",
	"tolerances.ServoLink": "tolerance of the servo link", "tolerances.HubHeight": "tolerance of the hub height",
	"tolerances.PitchLink": "tolerance of the pitch link", "tolerances.HornRadius": "tolerance of the pitch horn radius",
}

// refuse returns the error of the field at a path.
func refuse(field, reason string, args ...any) error {
	e := words.Refuse(field, reason, args...)
	e.Words = cmp.Or(e.Words, field)
	return e
}

// own puts the package's name before the text of a field's error that goes to a caller.
func own(err error) error {
	if field, ok := err.(*units.FieldError); ok {
		return units.In("", "gauge: ", field)
	}
	return err
}

// bare returns the text of an error without the names of packages, for one that names its own.
func bare(err error) string {
	text := ": " + err.Error()
	for _, name := range []string{"gauge", "lsq", "curve", "servo", "linkage", "swash", "pitch"} {
		text = strings.ReplaceAll(text, ": "+name+": ", ": ")
	}
	return text[len(": "):]
}

// say returns what another package found, with the servo's name where it is that of one leg.
func (m *model) say(err error) string {
	var leg *swash.LegError
	if servos := m.rig.Servos(); errors.As(err, &leg) && leg.Leg >= 0 && leg.Leg < len(servos) {
		return fmt.Sprintf("%s servo: %s", servos[leg.Leg].Name, bare(leg.Err))
	}
	return bare(err)
}

// RateError reports a collective or cyclic rate that a build needs, and that the radio does not take.
type RateError struct {
	What        string      // such as "right cyclic rate"
	Rate, Limit units.Ratio // what it needs, and setup.Radio.RateLimit
}

func (e *RateError) Error() string {
	return fmt.Sprintf("gauge: the %s would have to be %v, which is %v beyond the radio's limit of %v",
		e.What, units.Round(e.Rate, 2), units.Round(units.Ratio(math.Abs(float64(e.Rate)))-e.Limit, 2), units.Round(e.Limit, 2))
}

// MisfitError reports readings that do not belong to this machine as built: no build with
// its parameters anywhere near their tolerances shows them.
type MisfitError struct {
	Readings  int     // how many there were
	ChiSquare float64 // of readings and tolerances together; about Readings where all is well
	P         float64 // the probability that sound readings have as large a ChiSquare or a larger one
	// Worst is the reading that is furthest from what all others say, from 0, and Student
	// by how many standard deviations. See OneAlone.
	Worst   int
	Student float64
	// Suspects are the readings of which some, left out, would let the rest be
	// explained; from 0. There are none where no few of them would.
	Suspects []int
	// TooFew is set where there are suspects, and the readings do not tell which of
	// them is wrong, or whether it is a reading or the build.
	TooFew bool
	// Unless are the parameters of which any one alone, far beyond its tolerance, would
	// explain all the readings; the best first.
	Unless []Fault
	Err    error // what kept the fit from an answer, where something did
}

func (e *MisfitError) Error() string {
	if e.Err != nil {
		return fmt.Sprintf("gauge: no build near the file's shows these %d readings: %s", e.Readings, bare(e.Err))
	}
	var s string
	if e.OneAlone() {
		s = fmt.Sprintf("gauge: reading %d of %d does not belong to this build: among good readings one is so far from the others %s", e.Worst+1, e.Readings, e.Chance())
	} else {
		s = fmt.Sprintf("gauge: the %d readings do not belong to this build: good readings look like this %s", e.Readings, e.Chance())
	}
	if e.TooFew {
		s += "; they are too few to tell which is wrong: suspect"
		for i, k := range e.Suspects {
			if i > 0 {
				s += ","
			}
			s += fmt.Sprintf(" reading %d", k+1)
		}
	}
	for i, f := range e.Unless {
		s += []string{"; unless", ", or"}[min(i, 1)] + fmt.Sprintf(" %s is off by %s", f.Name, f.Parameter.Kind.Format(f.Off))
	}
	return s
}

// OneAlone reports whether the readings together look sound, by P, and are refused because
// Worst alone is too far from what the others say.
func (e *MisfitError) OneAlone() bool { return e.Student > 0 && e.P >= falseAlarm }

// Chance says in words how often sound readings would be refused for as much: of all
// readings together that is P, and with OneAlone that of the worst of so many readings.
func (e *MisfitError) Chance() string {
	p := e.P
	if e.OneAlone() {
		p = min(1, float64(2*e.Readings)*distuv.UnitNormal.Survival(math.Abs(e.Student)))
	}
	const million = 1e6
	if p*million < 1 {
		return "less than once in a million times"
	}
	times := 1 / p
	two := math.Pow(10, math.Max(0, math.Floor(math.Log10(times))-1)) // to two digits
	return fmt.Sprintf("about once in %.0f times", math.Round(times/two)*two)
}

func (e *MisfitError) Unwrap() error { return e.Err }
