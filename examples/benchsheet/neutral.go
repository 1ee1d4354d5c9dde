package main

import (
	"fmt"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

const neutralTitle = "Neutral: square the servo arms, then level the swashplate with its links"

// directions explains the directions that the tables give.
const directions = "Directions count from the nose, clockwise seen from above: nose 0°, right 90°, tail 180°, left 270°."

// asFiled says which machine the tables are for.
const asFiled = "All tables are for the machine as the file has it now. After you change a sub-trim or link, type it into the file and print again."

// neutralText says where the machine stands with collective and cyclic at zero.
func neutralText(n sheet.Neutral) string {
	amount, low := show.Tilt(n.Tilt, n.Low)
	if low != "-" {
		amount = fmt.Sprintf("tilts by %s, low side towards the %s", amount, side(n.Low))
	} else {
		amount = "is " + amount
	}
	return fmt.Sprintf("With collective and cyclic at zero, the swashplate stands at %s and %s. The gauge reads %s.",
		show.Length(n.Height), amount, show.Signed(n.Gauge))
}

// neutralTables are the servos and the links at neutral.
func neutralTables(n sheet.Neutral) []*show.Table {
	servos := &show.Table{Title: "Servo arms (also called servo horns)", Heads: []string{"<servo", "ball at", "pulse", "arm off square", "<move the arm on its spline", "then set sub-trim to"}}
	for _, s := range n.Servos {
		bearing, trim := "-", signedPulse(s.SubTrim)
		if s.Bearing != nil {
			bearing = show.Bearing(*s.Bearing)
		}
		if s.NoTrim {
			trim = "none is enough"
		}
		servos.Add(s.Name, bearing, show.Pulse(s.Pulse), show.Signed(s.OffSquare), teeth(s.Teeth), trim)
	}
	servos.Note("Ball at is the direction of the servo's ball on the plate. Arm off square is how far the arm is from square to its link; + is arm too high.")
	links := &show.Table{Title: "Links, between ball centres", Heads: []string{"<link", "length"}}
	for _, l := range n.Links {
		links.Add(l.Name, show.Length(l.Length))
	}
	return []*show.Table{servos, links}
}

// signedPulse is a pulse width with its sign, unless it is zero.
func signedPulse(p units.PulseWidth) string {
	if text := show.Pulse(p); p > 0 && text != show.Pulse(0) {
		return "+" + text
	}
	return show.Pulse(p)
}

// teeth says how to move an arm on its spline.
func teeth(n int) string {
	way := "up"
	if n < 0 {
		n, way = -n, "down"
	}
	switch n {
	case 0:
		return "leave it"
	case 1:
		return "1 tooth " + way
	}
	return fmt.Sprintf("%d teeth %s", n, way)
}
