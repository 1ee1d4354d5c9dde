package setup

import (
	"errors"
	"strings"

	"example.org/levelhead/pitch/machine"

	"example.org/levelhead/pitch"
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

// blameGrip finds the field of the head that a grip's error speaks of.
func blameGrip(m *machine.Machine, err error) error {
	path := "head.link"
	if spec := (*pitch.SpecError)(nil); errors.As(err, &spec) {
		field, _, _ := strings.Cut(spec.Field, ",")
		path = map[string]string{
			"ring radius": "head.ring_radius",
			"ring offset": "head.ring_offset",
			"phase":       "head.phase",
			"ring driver": "head.ring_driver",
			"hub height":  "head.hub_height",
			"horn":        "head.horn_radius",
			"horn x":      "head.horn_from_mast",
			"rest angle":  "head.rest_angle",
			"rotation":    "head.rotation",
			"side":        "head.horn_side",
			"mixing arm":  "head.mixing_arm",
		}[field]
		if path != "" && field == spec.Field {
			return blameField(m, path, err)
		}
		if path == "" {
			path = "head.link"
		}
	}
	return blame(m, path, err)
}
