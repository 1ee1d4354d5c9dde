package pitch

import (
	"fmt"
	"strings"

	"example.org/levelhead/units"
)

// words are the fields and arguments as the text of an error has them, where those are not
// the fields themselves.
var words = units.FieldNames{
	"RingRadius": "ring radius", "RingOffset": "ring offset", "Phase": "phase", "RingDriver": "ring driver",
	"HubHeight": "hub height", "Horn": "horn", "HornX": "horn x", "Rest": "rest angle", "Link": "link",
	"Rotation": "rotation", "Side": "side",

	"Mixer": "mixing arm", "Mixer.PlateSide": "mixing arm, plate side", "Mixer.BarSide": "mixing arm, bar side",
	"Mixer.BarRadius": "mixing arm, bar radius", "Mixer.WashoutIn": "mixing arm, washout in", "Mixer.WashoutOut": "mixing arm, washout out",

	"Pitch": "pitch curve", "Control": "control",

	"wanted.Expo": "expo", "wanted.Collective": "wanted collective",
	"wanted.Collective[].Stick": "collective target %d: stick", "wanted.Collective[].Pitch": "collective target %d: pitch",
	"wanted.Right": "wanted cyclic to the right", "wanted.Forward": "wanted cyclic forward",
	"radio.PercentStep": "radio: percent step", "radio.RateLimit": "radio: rate limit", "target.Pitch": "target: pitch",

	"neutral": "neutral height", "pose": "pose", "want": "wanted pitch", "at": "stick",
	"Collective": "collective stick", "Right": "cyclic stick to the right", "Forward": "cyclic stick forward",
	"d.Collective": "collective", "d.Right": "right", "d.Forward": "forward",
}

// refuse returns the *units.FieldError of a field or argument, as in
//
//	pitch: ring radius must be more than 0 mm, not -3 mm
func refuse(field, reason string, args ...any) error {
	return units.In("", "pitch: ", words.Refuse(field, reason, args...))
}

// GripError reports a blade position at which the pitch link does not fit.
type GripError struct {
	Bearing units.Angle // of the blade, from the nose, clockwise seen from above
	Err     error       // a *linkage.ReachError or a *swash.DeadCentreError, whose arm is the pitch horn
}

func (e *GripError) Error() string {
	return fmt.Sprintf("pitch: pitch link and pitch horn, with the blade at %.4g° (clockwise from the nose): %s", e.Bearing.Degrees(), because(e.Err))
}

func (e *GripError) Unwrap() error { return e.Err }

// CyclicError reports a blade pitch that the head cannot give.
type CyclicError struct {
	Wanted  Cyclic
	Reached Cyclic // the nearest that PoseFor found
	Err     error  // what stopped the search, where something did
}

func (e *CyclicError) Error() string {
	s := fmt.Sprintf("pitch: the head cannot give %v; the nearest found is %v", e.Wanted, e.Reached)
	if e.Err != nil {
		s += ", since " + because(e.Err)
	}
	return s
}

func (e *CyclicError) Unwrap() error { return e.Err }

// because returns an error's words without the package's name, which the words around it bear.
func because(err error) string {
	return strings.TrimPrefix(strings.TrimPrefix(err.Error(), "pitch: "), "swash: ")
}

var errNoGrip = refuse("grip", "is empty; make it with NewGrip")
