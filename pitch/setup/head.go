package setup

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

func (r *Rig) buildGrip() (*pitch.Grip, error) {
	m, h, grip := r.file, r.file.Head, &r.parts.Grip
	if _, err := h.LinkThread.Pitch(); err != nil {
		return nil, blameField(m, "head.link_thread", err)
	}
	*grip = pitch.GripSpec{
		RingRadius: h.RingRadius,
		RingOffset: h.RingOffset,
		Phase:      h.Phase,
		RingDriver: h.RingDriver,
		HubHeight:  h.HubHeight,
		Horn:       h.HornRadius,
		HornX:      h.HornX,
		Rest:       h.RestAngle,
		Rotation:   h.Rotation,
		Side:       h.Horn,
	}
	if h.MixingArm != nil {
		grip.Mixer = pitch.MixingArm(*h.MixingArm)
	}
	if h.Link != nil {
		grip.Link = *h.Link
	} else {
		link, err := grip.LinkFor(0, r.parts.Neutral)
		if err != nil {
			return nil, blameGrip(m, err)
		}
		grip.Link = link
	}
	built, err := pitch.NewGrip(*grip, r.parts.Neutral)
	if err != nil {
		return nil, blameGrip(m, err)
	}
	return built, nil
}

// gripFields are the fields of the head by those of a pitch.GripSpec.
var gripFields = units.FieldNames{
	"RingRadius": "ring_radius",
	"RingOffset": "ring_offset",
	"Phase":      "phase",
	"RingDriver": "ring_driver",
	"HubHeight":  "hub_height",
	"Horn":       "horn_radius",
	"HornX":      "horn_from_mast",
	"Rest":       "rest_angle",
	"Rotation":   "rotation",
	"Side":       "horn_side",
	"Mixer":      "mixing_arm",
}

// blameGrip finds the field of the head that a grip's error speaks of.
func blameGrip(m *machine.Machine, err error) error {
	name, itself := words.Field(gripFields, err)
	switch {
	case name == "":
		return blame(m, "head.link", err)
	case itself:
		return blameField(m, "head."+name, err)
	}
	return blame(m, "head."+name, err)
}
