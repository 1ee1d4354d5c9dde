package pitch

import (
	"fmt"
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Wanted is what a flight mode must do at the blade.
type Wanted struct {
	Kind       curve.Kind // of the pitch curve
	Expo       curve.Expo // of both cyclic sticks
	Collective []Target   // two or more, stick rising; each is a point of the curve
	// Right and Forward are what full right and full forward stick add at mid collective
	// stick, as amplitudes of the once-per-revolution pitch, each within ±90°. Below 0
	// reverses that control.
	Right, Forward units.Angle
}

// Target is the pitch that the gauge must read at a position of the collective stick.
type Target struct {
	Stick units.Ratio `json:"stick"` // 0 % to 100 %
	Pitch units.Angle `json:"pitch"` // positive with the leading edge up, within ±90°
}

// cyclic returns what full right and full forward stick must add.
func (w Wanted) cyclic() [2]units.Angle { return [...]units.Angle{w.Right, w.Forward} }

// Validate reports what no head can be asked for, as a *units.FieldError with a path such as
// "wanted.Collective[1].Stick". What a curve cannot have is left to curve.New.
func (w Wanted) Validate() error {
	if err := w.Expo.Validate(); err != nil {
		return units.In("wanted.Expo", "pitch: ", err)
	}
	if n := len(w.Collective); n < 2 {
		return refuse("wanted.Collective", "must have two targets or more, not %d", n)
	}
	for i, t := range w.Collective {
		at := fmt.Sprintf("wanted.Collective[%d]", i)
		if !(t.Stick >= 0 && t.Stick <= 1) {
			return refuse(at+".Stick", "must be within 0 %% and 100 %%, not %v", t.Stick)
		}
		if !(math.Abs(t.Pitch.Degrees()) < 90) {
			return refuse(at+".Pitch", "must be between -90° and 90°, not %v", t.Pitch)
		}
		if i > 0 && !(t.Stick > w.Collective[i-1].Stick) {
			return refuse(at+".Stick", "must be more than that of the target before, %v, not %v", w.Collective[i-1].Stick, t.Stick)
		}
	}
	for i, a := range w.cyclic() {
		if !(math.Abs(a.Degrees()) < 90) {
			return refuse([...]string{"wanted.Right", "wanted.Forward"}[i], "must be between -90° and 90°, not %v", a)
		}
	}
	return nil
}

// Radio is what a radio takes of rates and of points of curves.
type Radio struct {
	PercentStep units.Ratio // of rates and curve points, 0.01 % to 25 %
	RateLimit   units.Ratio // the largest rate, of collective and of cyclic alike; more than 0 %
}

func (r Radio) validate() error {
	if !(r.PercentStep >= 0.0001 && r.PercentStep <= 0.25) {
		return refuse("radio.PercentStep", "must be within 0.01 %% and 25 %%, not %v", r.PercentStep)
	}
	if !(r.RateLimit > 0 && units.Finite(r.RateLimit)) {
		return refuse("radio.RateLimit", "must be more than 0 %%, not %v", r.RateLimit)
	}
	return nil
}

// Solution is what meets the targets exactly at the blade, without radio steps, and
// what comes nearest to that in the radio's whole steps. The collective rate is the least
// that holds the curve, or a little more where the points then read nearer to their
// targets. On the machines of examples/demo the worst point reads 0.01° to 0.04° off, and
// 0.07° in one mode of a radio with pulse steps of 2 µs (0.13° of pitch).
type Solution struct {
	Exact    Setting         `json:"-"`
	Entered  Setting         `json:"-"` // rounded to the radio's percent steps, as Enter says
	Enter    Entry           `json:"enter"`
	Readings []SolvedReading `json:"readings"`        // at the collective targets
	Cyclic   []CyclicReading `json:"cyclic_readings"` // at the cyclic target, right and forward
}

// Entry is a solution in the radio's percent steps: what to type in.
type Entry struct {
	Rates  swash.Rates      `json:"rates"`
	Points [][2]units.Ratio `json:"points"` // stick position and value of the pitch curve
}

// SolvedReading is what the gauge shows at a target's stick position.
type SolvedReading struct {
	Target  Target      `json:"target"`
	Exact   units.Angle `json:"exact"`   // by the exact values, radio steps aside
	Entered units.Angle `json:"entered"` // by the rounded values, with the radio's pulse steps
}

// CyclicReading is the cyclic pitch that a full stick adds at mid collective stick.
type CyclicReading struct {
	Stick   string      `json:"stick"` // full right or full forward
	Wanted  units.Angle `json:"wanted"`
	Exact   units.Angle `json:"exact"`   // by the exact values, radio steps aside
	Entered units.Angle `json:"entered"` // by the rounded values, with the radio's pulse steps
}

// TargetError reports a target that the head cannot give.
type TargetError struct {
	What    string      // which target, such as "pitch at stick 100 %"
	Wanted  units.Angle // on the gauge; of cyclic, the amplitude
	Nearest units.Angle // the nearest the head comes
	Err     error       // what stops it there, where something does
}

func (e *TargetError) Error() string {
	s := fmt.Sprintf("pitch: %s: %.2f° is out of reach by %.2f°; the head comes to %.2f° and no nearer",
		e.What, e.Wanted.Degrees(), math.Abs((e.Wanted - e.Nearest).Degrees()), e.Nearest.Degrees())
	if e.Err != nil {
		s += ", since " + because(e.Err)
	}
	return s
}

func (e *TargetError) Unwrap() error { return e.Err }
