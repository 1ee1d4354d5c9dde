package main

import (
	"fmt"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
)

// bearings explains the bearings that the tables give.
const bearings = "Bearings count from the nose, clockwise seen from above: nose 0°, right 90°, tail 180°, left 270°."

// neutralText says where the machine stands with collective and cyclic at zero.
func neutralText(n setup.Neutral) string {
	amount, low := show.Tilt(n.Tilt, n.Low)
	if low != "-" {
		amount = fmt.Sprintf("tilting %s, low side at %s", amount, low)
	}
	return fmt.Sprintf("With collective and cyclic at zero: plate height %s, plate %s, gauge reads %s.",
		show.Length(n.Height), amount, show.Signed(n.Gauge))
}

// neutralTables are the servos and the links at neutral.
func neutralTables(n setup.Neutral) []*show.Table {
	servos := &show.Table{Title: "Servo arms, squared", Heads: []string{"<servo", "bearing", "pulse", "arm off square", "<move the arm on its spline", "then set sub-trim to"}}
	for _, s := range n.Servos {
		bearing, trim := "-", show.Pulse(s.SubTrim)
		if s.Bearing != nil {
			bearing = show.Bearing(*s.Bearing)
		}
		if s.NoTrim {
			trim = "beyond sub-trim"
		}
		servos.Add(s.Name, bearing, show.Pulse(s.Pulse), show.Signed(s.OffSquare), teeth(s.Teeth), trim)
	}
	links := &show.Table{Title: "Links, between ball centres", Heads: []string{"<link", "length"}}
	for _, l := range n.Links {
		links.Add(l.Name, show.Length(l.Length))
	}
	return []*show.Table{servos, links}
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

// gaugeText says where the gauge goes.
func gaugeText(rig *setup.Rig) string {
	g := rig.Machine.Gauge
	return fmt.Sprintf("Gauge readings are for the blade at bearing %s, cyclic stick centred; the gauge goes from %v to %v and shows steps of %v.",
		show.Bearing(g.Bearing), g.Low, g.High, g.Step)
}

// playText says how far the blade and the plate can be moved by hand at neutral, and
// nothing where the machine file does not give the play of its joints.
func playText(rig *setup.Rig) string {
	play := rig.Machine.Play
	if play == nil {
		return ""
	}
	joints, err := rig.Joints(*play, swash.Demand{})
	if err != nil {
		return fmt.Sprintf("Play at the blade: cannot be worked out: %v.", err)
	}
	worst, likely := joints.Worst(), joints.RootSumSquare()
	return fmt.Sprintf("Play at the blade, worst / likely (root-sum-square), to either side: pitch %s / %s, tilt of the plate %s / %s.",
		show.Angle(worst.Blade), show.Angle(likely.Blade), show.Angle(worst.Tilt), show.Angle(likely.Tilt))
}
