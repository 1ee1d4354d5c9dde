package setup

import (
	"example.org/levelhead/swash"
)

// mix returns the mixing that the file names.
func (r *Rig) mix(mechanism swash.Mechanism) (swash.Mix, error) {
	m := r.Machine
	plate, direct := mechanism.(*swash.Plate)
	if m.Radio.Mixing != MixByRows && m.Radio.MixRows != nil && m.Radio.Mixing.known() {
		return nil, m.fail("radio.mix_rows", "must be left out where mixing is %q; or write %q as mixing", m.Radio.Mixing, MixByRows)
	}
	switch {
	case m.Radio.Mixing == MixByRows:
		if n := mechanism.Servos(); len(m.Radio.MixRows) != n {
			return nil, m.fail("radio.mix_rows", "must have one row for each of the %d servos, not %d rows", n, len(m.Radio.MixRows))
		}
		var mix swash.Mix
		for _, row := range m.Radio.MixRows {
			mix = append(mix, swash.Demand{Collective: float64(row.Collective), Right: float64(row.Right), Forward: float64(row.Forward)})
		}
		return mix, nil
	case m.Radio.Mixing == MixOneEach && !direct:
		return swash.MixOneEach(), nil
	case m.Radio.Mixing == MixByLayout && direct:
		var layout swash.Layout
		for _, leg := range r.parts.Plate.Legs {
			layout = append(layout, leg.Ball)
		}
		return layout.Mix(), nil
	case m.Radio.Mixing == MixByGeometry && direct:
		mix, err := plate.Mix()
		if err != nil {
			return nil, m.blame("radio.mixing", err)
		}
		return mix, nil
	case direct:
		return nil, m.fail("radio.mixing", "must be %q, %q or %q on a machine with legs, not %q", MixByLayout, MixByGeometry, MixByRows, m.Radio.Mixing)
	}
	return nil, m.fail("radio.mixing", "must be %q or %q on a machine with bell cranks, not %q", MixOneEach, MixByRows, m.Radio.Mixing)
}

func (m Mixing) known() bool {
	return m == MixByLayout || m == MixByGeometry || m == MixOneEach
}
