package choose

import (
	"fmt"
	"slices"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Owned lists the parts at hand. A nil list leaves those parts as they are on the machine,
// except for Arms. An empty list is refused. Order does not matter, and what is listed twice
// counts once. The machine's own parts are not added to a list. If bell cranks move the
// plate, only the pitch horns can be chosen.
type Owned struct {
	// Arms are the hole radii of the servo arms. Nil stands for the holes that all the
	// machine's servo types list, if there are any.
	Arms []units.Length
	// Unlike lets each servo have another arm; otherwise all have the same. Unlike arms
	// tilt the plate under collective, unless the mixing allows for them.
	Unlike bool
	Teeth  []int          // by which the arms are off square at neutral; above 0 raises the ball
	Balls  []units.Length // distances of the plate's balls from the mast, for all legs
	// Links are lengths of servo link, for all legs alike. Nil stands for links cut to
	// length. With a given length the arm stands as it would with a link cut to length, and
	// the plate stands where the links put it.
	Links []units.Length
	Horns []units.Length // hole radii of the pitch horns
	// Refit squares the arms and cuts the links of the machine's present parts as well.
	// Without it these stay as they are, right or wrong.
	Refit bool
}

// Candidate is one choice of parts.
type Candidate struct {
	Arms  []units.Length `json:"arm_radii,omitempty"`   // hole radius for each servo, in the order of the legs; nil leaves them as they are
	Teeth int            `json:"off_square_teeth"`      // by which the arms are off square, as in Owned
	Ball  units.Length   `json:"ball_radius,omitempty"` // distance of the plate's balls from the mast; 0 leaves them as they are
	Link  units.Length   `json:"servo_link,omitempty"`  // length of the servo links; 0 cuts them to length
	Horn  units.Length   `json:"horn_radius,omitempty"` // hole radius of the pitch horns; 0 leaves them as they are
	Refit bool           `json:"refit"`                 // as in Owned
}

// onBellCranks refuses parts that only direct plates let one choose.
func onBellCranks(field string) error {
	e := refuse(field, "must be left out: bell cranks move the plate, so only the pitch horns can be chosen")
	e.Words = "choose: arms, teeth, balls and links"
	return e
}

// lengths returns a list of lengths in rising order, each once. For nil it returns a single 0.
func lengths(field string, list []units.Length) ([]units.Length, error) {
	if list == nil {
		return []units.Length{0}, nil
	}
	if len(list) == 0 {
		return nil, refuse(field, "must not be empty")
	}
	for i, l := range list {
		if !(l > 0) || !units.Finite(l) {
			return nil, refuse(fmt.Sprintf("%s[%d]", field, i), "must be above zero and finite, not %v", l)
		}
	}
	return sorted(list), nil
}

// sorted returns a list in rising order, each element once.
func sorted[E units.Length | int](list []E) []E {
	list = slices.Clone(list)
	slices.Sort(list)
	return slices.Compact(list)
}

// candidates returns all combinations of the owned parts: arms rise slowest, pitch horns
// fastest.
func (o *Owned) candidates(rig *setup.Rig, most int) ([]Candidate, error) {
	given := o.Arms
	if rig.Machine().Plate.BellCranks != nil {
		switch {
		case o.Arms != nil:
			return nil, onBellCranks("Arms")
		case o.Teeth != nil:
			return nil, onBellCranks("Teeth")
		case o.Balls != nil:
			return nil, onBellCranks("Balls")
		case o.Links != nil:
			return nil, onBellCranks("Links")
		}
	} else if holes := rig.ArmHoles(); given == nil && len(holes) > 0 {
		given = holes
	}
	arms, err := lengths("Arms", given)
	if err != nil {
		return nil, err
	}
	var parts [3][]units.Length
	for i, list := range []struct {
		field   string
		lengths []units.Length
	}{{"Balls", o.Balls}, {"Links", o.Links}, {"Horns", o.Horns}} {
		if parts[i], err = lengths(list.field, list.lengths); err != nil {
			return nil, err
		}
	}
	teeth := sorted(o.Teeth)
	switch {
	case o.Teeth == nil:
		teeth = []int{0}
	case len(teeth) == 0:
		return nil, refuse("Teeth", "must not be empty")
	}
	n := len(rig.Servos())
	sets := float64(len(arms))
	if o.Unlike {
		for range n - 1 {
			sets *= float64(len(arms))
		}
	}
	if count := sets * float64(len(teeth)*len(parts[0])) * float64(len(parts[1])*len(parts[2])); count > float64(most) {
		return nil, &CountError{count, most}
	}
	var all []Candidate
	for _, set := range armSets(arms, n, o.Unlike) {
		for _, tooth := range teeth {
			for _, ball := range parts[0] {
				for _, link := range parts[1] {
					for _, horn := range parts[2] {
						all = append(all, Candidate{set, tooth, ball, link, horn, o.Refit})
					}
				}
			}
		}
	}
	return all, nil
}

// armSets returns the arms of n servos: alike, or in all combinations.
func armSets(arms []units.Length, n int, unlike bool) [][]units.Length {
	if arms[0] == 0 {
		return [][]units.Length{nil}
	}
	var sets [][]units.Length
	if !unlike {
		for _, arm := range arms {
			sets = append(sets, slices.Repeat([]units.Length{arm}, n))
		}
		return sets
	}
	at := make([]int, n) // counts up, the last servo fastest
	for {
		set := make([]units.Length, n)
		for i, k := range at {
			set[i] = arms[k]
		}
		sets = append(sets, set)
		i := n - 1
		for ; i >= 0 && at[i] == len(arms)-1; i-- {
			at[i] = 0
		}
		if i < 0 {
			return sets
		}
		at[i]++
	}
}
