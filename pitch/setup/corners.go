package setup

import (
	"errors"
	"fmt"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// CyclicThrow is what full cyclic does with the collective stick at the middle.
type CyclicThrow struct {
	Stick       string      `json:"stick"`                                  // right, left, forward or back
	Pitch       units.Angle `json:"pitch" plain:"without=Unreachable"`      // amplitude of the once-per-revolution part
	Phase       units.Angle `json:"most_at" plain:"without=Unreachable"`    // where the blade has most pitch: its direction from the nose
	Residue     units.Angle `json:"unevenness" plain:"without=Unreachable"` // the most that the pitch departs from a pure once-per-revolution wave
	Unreachable string      `json:"unreachable,omitempty"`                  // what keeps the machine from getting there at all
}

// Corner is a corner of the sticks: collective at an end, and cyclic full to one of eight
// sides.
type Corner struct {
	Stick       string             `json:"stick"`
	BeyondLimit []units.PulseWidth `json:"beyond_limit" plain:"without=Unreachable"` // of each servo, what it would need; 0 is within its pulse limits
	Unreachable string             `json:"unreachable,omitempty"`                    // what keeps the plate from getting there at all
}

// CircularLimit is the circular cyclic limit (cyclic ring) at one position of the
// collective stick: the tilt that the swashplate reaches in every direction.
//
// It is right for the plate's height at that stick position, cyclic centred. On a plate
// moved by three servos or more, cyclic changes that height a little, so that the sticks
// reach up to a tenth or so more before a servo is at its limit. The limit is on the safe
// side.
type CircularLimit struct {
	Stick units.Ratio `json:"stick"`
	Tilt  units.Angle `json:"tilt" plain:"with=Tilt"`        // of the plate, the same in all directions
	Pitch units.Angle `json:"pitch" plain:"with=Tilt"`       // amplitude of cyclic pitch at that tilt
	At    units.Angle `json:"tightest_at" plain:"with=Tilt"` // where it is tightest: the direction from the nose
	Cause string      `json:"cause"`                         // what limits it there
}

// directions are the ways of the cyclic stick, the four ends first.
var directions = [...]struct {
	name           string
	right, forward float64
}{
	{"right", 1, 0}, {"left", -1, 0}, {"forward", 0, 1}, {"back", 0, -1},
	{"forward right", 1, 1}, {"forward left", -1, 1}, {"back right", 1, -1}, {"back left", -1, -1},
}

// Cyclic returns what full cyclic does in mid collective stick: right, left, forward and back.
func (s Setup) Cyclic() []CyclicThrow {
	if s.Validate() != nil {
		return nil
	}
	var throws []CyclicThrow
	for i, at := range pitch.CyclicEnds() {
		throw := CyclicThrow{Stick: directions[i].name}
		rev, err := s.Revolution(at, s.rig.head.Control.NewState())
		if err != nil {
			throw.Unreachable = s.rig.Cause(err)
		} else {
			throw.Pitch, throw.Phase, throw.Residue = rev.Amplitude(), rev.Phase(), rev.Residue
		}
		throws = append(throws, throw)
	}
	return throws
}

// Revolution returns the blade's pitch over a revolution at a stick position.
func (s Setup) Revolution(at pitch.Stick, state *swash.State) (pitch.Revolution, error) {
	if err := s.Validate(); err != nil {
		return pitch.Revolution{}, err
	}
	demand, err := s.mode.setting.Demand(at)
	if err != nil {
		return pitch.Revolution{}, err
	}
	pose, err := s.rig.head.Control.Pose(state, demand)
	if err != nil {
		return pitch.Revolution{}, err
	}
	return s.rig.head.Grip.Revolution(pose)
}

// Corners tries all corners of the sticks. What cannot be reached is part of
// the answer, not an error.
func (s Setup) Corners() []Corner {
	if s.Validate() != nil {
		return nil
	}
	var corners []Corner
	for _, end := range []struct {
		name  string
		stick float64
	}{{"low", 0}, {"high", 1}} {
		for _, d := range directions {
			state := s.rig.head.Control.NewState()
			c := Corner{Stick: end.name + " stick and full " + d.name}
			if _, err := s.Revolution(pitch.Stick{Collective: end.stick, Right: d.right, Forward: d.forward}, state); err != nil {
				c.Unreachable = s.rig.Cause(err)
			}
			c.BeyondLimit = state.BeyondLimit
			corners = append(corners, c)
		}
	}
	return corners
}

// CornerSticks returns the corners of the sticks in the order of Corners.
func CornerSticks() []pitch.Stick {
	var sticks []pitch.Stick
	for _, end := range []float64{0, 1} {
		for _, d := range directions {
			sticks = append(sticks, pitch.Stick{Collective: end, Right: d.right, Forward: d.forward})
		}
	}
	return sticks
}

// CircularLimits finds the circular cyclic limit at low, middle and high stick.
func (s Setup) CircularLimits() []CircularLimit {
	if s.Validate() != nil {
		return nil
	}
	var limits []CircularLimit
	for _, stick := range []float64{0, 0.5, 1} {
		limit, err := s.circularLimit(stick)
		if err != nil {
			limit.Cause = s.rig.Cause(err)
		}
		limits = append(limits, limit)
	}
	return limits
}

func (s Setup) circularLimit(stick float64) (CircularLimit, error) {
	const bearings = 36
	limit := CircularLimit{Stick: units.Ratio(stick)}
	row, err := s.Row(stick)
	if err != nil {
		return limit, err
	}
	e, err := s.rig.head.Control.Envelope(row.Height, bearings)
	if err != nil {
		return limit, err
	}
	limit.Tilt, limit.At, limit.Cause = e.Circular.Tilt, e.Circular.Bearing, s.rig.Cause(e.Circular.Cause)
	at := func(tilt units.Angle) (pitch.Revolution, error) {
		return s.rig.head.Grip.Revolution(swash.Pose{Height: row.Height, Tilt: swash.TiltTo(tilt, e.Circular.Bearing)})
	}
	rev, err := at(limit.Tilt)
	if err != nil {
		// The pitch links reach their limit before the plate does, and some blade always
		// stands where it does.
		limit.Cause = s.rig.Cause(err)
		reached, fails := units.Angle(0), limit.Tilt
		for fails-reached > 1e-9 {
			mid := (reached + fails) / 2
			if there, err := at(mid); err != nil {
				fails = mid
			} else {
				reached, rev = mid, there
			}
		}
		limit.Tilt = reached
	}
	limit.Pitch = rev.Amplitude()
	return limit, nil
}

// Cause says in a few words what keeps the plate from getting somewhere.
func (r *Rig) Cause(err error) string {
	var leg *swash.LegError
	var grip *pitch.GripError
	var singular *swash.SingularError
	var none *swash.NoPoseError
	switch {
	case err == nil:
		return "nothing up to here"
	case errors.As(err, &grip):
		return fmt.Sprintf("the pitch link does not fit with the blade over the %s", words.Direction(grip.Bearing))
	case errors.As(err, &singular):
		return "the servos lose hold of the swashplate"
	case errors.As(err, &none):
		return r.servos[none.Leg].Name + " link does not reach"
	case !errors.As(err, &leg):
		return words.Plain(err)
	}
	name := r.servos[leg.Leg].Name
	var limit *servo.RangeError
	var reach *linkage.ReachError
	var travel *linkage.TravelError
	switch {
	case errors.As(err, &limit):
		return name + " servo at its pulse limit"
	case errors.As(err, &reach):
		return name + " link runs out of reach"
	case errors.As(err, &travel):
		return name + " linkage at its dead centre"
	}
	return name + " arm in line with its link"
}
