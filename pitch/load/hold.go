package load

import (
	"errors"

	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

// Held is how a power train holds a rotor speed in hover at one blade pitch.
type Held struct {
	Pitch     units.Angle        `json:"pitch"`
	Loads     rotor.Loads        `json:"rotor_loads" plain:"with=Loads"`
	Operation rotor.Operation    `json:"operation" plain:"without=Unsolved"`
	Speed     units.AngularSpeed `json:"rotor_speed" plain:"without=Unsolved"` // the one asked for, or the best that can be held
	// Short is why Speed is not the one asked for; nil where it is.
	Short *rotor.HoldError `json:"shortfall"`
	// Unsolved is why there is no Operation; nil where there is one.
	Unsolved error `json:"failure"`
}

// Hold returns how a power train holds the speed of a rotor at a blade pitch, or the best
// speed that it can hold there.
func (s *Spin) Hold(train rotor.PowerTrain, pitch units.Angle) Held {
	h := s.hold(train, pitch)
	var short *rotor.HoldError
	if errors.As(h.Unsolved, &short) && short.Best > 0 {
		best := *s
		best.At.Speed = short.Best
		h = best.hold(train, pitch)
		h.Short = short
	}
	return h
}

func (s *Spin) hold(train rotor.PowerTrain, pitch units.Angle) Held {
	h := Held{Pitch: pitch, Speed: s.At.Speed}
	if h.Loads, h.Unsolved = s.Rotor.Loads(pitch, s.At); h.Unsolved == nil {
		h.Operation, h.Unsolved = train.Hold(s.At.Speed, h.Loads.Torque)
	}
	return h
}

// Hover is how a machine hovers.
type Hover struct {
	Held
	// Stick is the position of the collective stick that gives the pitch, and Reached
	// whether there is one.
	Stick   units.Ratio `json:"stick" plain:"with=Reached"`
	Reached bool        `json:"reached"`
}

// Hover returns how a mass hovers in a mode. The errors are those of
// Validate and rotor.Rotor.HoverPitch.
func (t Turning) Hover(mass units.Mass, train rotor.PowerTrain) (Hover, error) {
	if err := t.Validate(); err != nil {
		return Hover{}, err
	}
	pitch, _, err := t.Spin.Rotor.HoverPitch(mass, t.Spin.At)
	if err != nil {
		return Hover{}, err
	}
	h := Hover{Held: t.Spin.Hold(train, pitch)}
	h.Stick, h.Reached = t.Setup.StickFor(pitch)
	return h, nil
}
