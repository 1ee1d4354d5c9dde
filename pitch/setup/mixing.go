package setup

import (
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/swash"
)

// mix returns the mixing that the file names.
func (r *Rig) mix(mechanism swash.Mechanism) (swash.Mix, error) {
	m := r.file
	plate, direct := mechanism.(*swash.Plate)
	if m.Radio.Mixing != machine.MixByRows && m.Radio.MixRows != nil && known(m.Radio.Mixing) {
		return nil, fail(m, "radio.mix_rows", "must be left out where mixing is %q; or write %q as mixing", m.Radio.Mixing, machine.MixByRows)
	}
	switch {
	case m.Radio.Mixing == machine.MixByRows:
		if n := mechanism.Servos(); len(m.Radio.MixRows) != n {
			return nil, fail(m, "radio.mix_rows", "must have one row for each of the %d servos, not %d rows", n, len(m.Radio.MixRows))
		}
		var mix swash.Mix
		for _, row := range m.Radio.MixRows {
			mix = append(mix, swash.Demand{Collective: float64(row.Collective), Right: float64(row.Right), Forward: float64(row.Forward)})
		}
		return mix, nil
	case m.Radio.Mixing == machine.MixOneEach && !direct:
		return swash.MixOneEach(), nil
	case m.Radio.Mixing == machine.MixByLayout && direct:
		var layout swash.Layout
		for _, leg := range r.parts.Plate.Legs {
			layout = append(layout, leg.Ball)
		}
		return layout.Mix(), nil
	case m.Radio.Mixing == machine.MixByGeometry && direct:
		mix, err := plate.Mix()
		if err != nil {
			return nil, blame(m, "radio.mixing", err)
		}
		return mix, nil
	case direct:
		return nil, fail(m, "radio.mixing", "must be %q, %q or %q on a machine with legs, not %q", machine.MixByLayout, machine.MixByGeometry, machine.MixByRows, m.Radio.Mixing)
	}
	return nil, fail(m, "radio.mixing", "must be %q or %q on a machine with bell cranks, not %q", machine.MixOneEach, machine.MixByRows, m.Radio.Mixing)
}

func known(m machine.Mixing) bool {
	return m == machine.MixByLayout || m == machine.MixByGeometry || m == machine.MixOneEach
}
