package machine

import "example.org/levelhead/units"

// Play is the play of each kind of joint, from one end to the other.
type Play struct {
	Ball    units.Length `json:"ball"`    // of a ball link, along its link
	Gear    units.Angle  `json:"gear"`    // of a servo, at its arm
	Bearing units.Length `json:"bearing"` // of a crank or mixing arm on its shaft or pin, along each link that it carries
}
