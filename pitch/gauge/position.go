package gauge

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
)

// position is what the radio sends at one position of the sticks in one flight mode:
// for each servo, what its arm makes of it. It is worked out once, from the file: the
// radio's steps and limits are in it, and the parameters of a build change none of them.
type position []sent

// sent is what one servo is sent.
type sent struct {
	turn float64 // rad, of the arm from where it stands at the neutral pulse, by the file
	// perLow and perHigh are the turn for a change of the end points: rad for the
	// whole. They are without the radio's steps, and 0 where the pulse reaches its limit.
	perLow, perHigh float64
}

// positionOf returns what the radio sends.
func positionOf(drive *swash.Control, mode setup.Setup, at pitch.Stick) (position, error) {
	demand, err := mode.Setting().Demand(at)
	if err != nil {
		return nil, err
	}
	servos, mix := drive.Servos(), drive.Mix()
	p := make(position, len(servos))
	for i := range servos {
		p[i] = sentBy(&servos[i], mix.Command(i, demand))
	}
	return p, nil
}

func sentBy(s *servo.Servo, command float64) sent {
	out := s.Output(command)
	t := sent{turn: float64(out.Arm - s.Mount)}
	if out.BeyondLimit != 0 {
		return t
	}
	if s.Reverse {
		command = -command
	}
	if command < 0 {
		t.perLow = command * float64(s.Travel)
	} else {
		t.perHigh = command * float64(s.Travel)
	}
	return t
}
