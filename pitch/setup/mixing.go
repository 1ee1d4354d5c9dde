package setup

import (
	"example.org/levelhead/swash"
)

// mix returns the mixing that the radio is said to do.
func (r *Rig) mix(mechanism swash.Mechanism) (swash.Mix, error) {
	m := r.Machine
	plate, direct := mechanism.(*swash.Plate)
	if m.Radio.Mixing != MixByRows && m.Radio.MixRows != nil && m.Radio.Mixing.known() {
		return nil, m.fail("radio.mix_rows", "given, but mixing is %q", m.Radio.Mixing)
	}
	switch {
	case m.Radio.Mixing == MixByRows:
		if n := mechanism.Servos(); len(m.Radio.MixRows) != n {
			return nil, m.fail("radio.mix_rows", "%d rows for %d servos", len(m.Radio.MixRows), n)
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
		return nil, m.fail("radio.mixing", "%q is none of %q, %q and %q, which suit legs", m.Radio.Mixing, MixByLayout, MixByGeometry, MixByRows)
	}
	return nil, m.fail("radio.mixing", "%q is neither %q nor %q, which suit bell cranks", m.Radio.Mixing, MixOneEach, MixByRows)
}

func (m Mixing) known() bool {
	return m == MixByLayout || m == MixByGeometry || m == MixOneEach
}
