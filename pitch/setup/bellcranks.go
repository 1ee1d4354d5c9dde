package setup

import (
	"errors"
	"fmt"

	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// buildBellCranks builds a machine whose servos each move one control: collective, right
// cyclic or forward cyclic.
func (r *Rig) buildBellCranks() (swash.Mechanism, error) {
	m := r.file
	if m.Plate.Guide != nil {
		return nil, fail(m, "plate.guide", "must be left out, because bell cranks set the tilt themselves")
	}
	r.parts.Plate.Height = m.Plate.NeutralHeight
	for i, f := range m.Plate.BellCranks.Functions() {
		path := "plate.bell_cranks." + f.Name
		chain, err := chainOf(m, path+".chain", f.Chain.Chain)
		if err != nil {
			return nil, err
		}
		r.parts.Chains[i], r.parts.made[i] = chain.chain, chain
		if err := r.addServo(path+".servo", f.Name, f.Chain.Servo, chain.chain[0].Radius()); err != nil {
			return nil, err
		}
		r.servos[i].Control = control(f.Name)
	}
	mechanism, err := r.parts.Mechanism()
	if err != nil {
		function, _ := words.Field(units.FieldNames{"Collective": ".collective", "Right": ".right", "Forward": ".forward"}, err)
		return nil, blame(m, "plate.bell_cranks"+function, err)
	}
	return mechanism, nil
}

// chainOf returns what the members of a chain describe, put together. It reports the first member that
// cannot be built, or else why they do not join.
func chainOf(m *machine.Machine, path string, members []machine.Member) (chain made, err error) {
	if len(members) == 0 {
		return chain, fail(m, path, "must have one member or more")
	}
	for k, member := range members {
		spec, err := specOf(m, fmt.Sprintf("%s[%d]", path, k), member)
		if err != nil {
			return chain, err
		}
		chain.chain = append(chain.chain, spec)
	}
	if chain.linkage, err = join(chain.chain); err != nil {
		return chain, blame(m, path, err)
	}
	return chain, nil
}

// join builds the linkages of a chain, and joins them.
func join(chain []linkage.Spec) (linkage.Linkage, error) {
	var built []linkage.Linkage
	for _, spec := range chain {
		l, err := spec.Build()
		if err != nil {
			return nil, err
		}
		built = append(built, l)
	}
	if len(built) == 1 {
		return built[0], nil
	}
	return linkage.NewChain(built...)
}

// specOf returns what a member of the file, at a path, describes, once it has been built.
func specOf(m *machine.Machine, path string, member machine.Member) (linkage.Spec, error) {
	kind, geometry, err := member.Geometry()
	if err != nil {
		return nil, blame(m, path, err)
	}
	spec, err := geometry.Spec()
	if err != nil {
		return nil, blame(m, path, err)
	}
	if _, err := spec.Build(); err != nil {
		if errors.As(err, new(*units.FieldError)) {
			field, _ := words.Field(geometry.Fields(), err)
			path += "." + kind + field
		}
		return nil, blame(m, path, err)
	}
	return spec, nil
}
