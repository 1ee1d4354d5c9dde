package choose

import (
	"fmt"
	"slices"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Owned is what is at hand. A list that is nil leaves those parts as they are on the
// machine, but for Arms; one that is empty is refused. Order does not matter, and
// what is listed twice counts once. The machine's own parts are not added to a list.
// Where bell cranks move the plate there are only horns to choose.
type Owned struct {
	// Arms are the hole radii of the servo arms; nil takes those that all the
	// machine's servo types list, if there are any.
	Arms []units.Length
	// Unlike lets each servo have an arm of its own; else all have the same. Unlike
	// arms tilt the plate under collective, unless the mixing knows of them.
	Unlike bool
	Teeth  []int          // by which the arms are set off where they are square at neutral; above 0 raises the ball
	Balls  []units.Length // radii of the balls on the plate, for all legs
	// Links are lengths of servo link, for all legs alike. Nil is links cut to suit.
	// With a given length the arm stands as it would to one cut to suit, and the
	// plate where the links put it.
	Links []units.Length
	Horns []units.Length // hole radii of the horns
	// Refit squares the arms and cuts the links anew of parts that are the present
	// ones, too. Without it those stay as they are, with what may be wrong with them.
	Refit bool
}

// Candidate is one choice of parts.
type Candidate struct {
	Arms  []units.Length // hole radius for each servo, in the order of the drive; nil is as it is
	Teeth int            // by which the arms are set off square, as in Owned
	Ball  units.Length   // 0 is as it is
	Link  units.Length   // 0 is cut to suit
	Horn  units.Length   // 0 is as it is
	Refit bool           // as in Owned
}

var errBellCranks = &InputError{"arms, teeth, balls and links", -1, "bell cranks move the plate: only the horns can be chosen"}

// lengths returns a list of lengths, rising and each once; nil has one, 0.
func lengths(name string, list []units.Length) ([]units.Length, error) {
	if list == nil {
		return []units.Length{0}, nil
	}
	if len(list) == 0 {
		return nil, &InputError{name, -1, "is empty"}
	}
	for i, l := range list {
		if !(l > 0) || !units.Finite(l) {
			return nil, &InputError{name, i, fmt.Sprintf("%v is not above zero", l)}
		}
	}
	return sorted(list), nil
}

// sorted returns a list rising, each element once.
func sorted[E units.Length | int](list []E) []E {
	list = slices.Clone(list)
	slices.Sort(list)
	return slices.Compact(list)
}

// candidates returns all combinations of what is owned: arms rise slowest, horns
// fastest.
func (o *Owned) candidates(rig *setup.Rig, most int) ([]Candidate, error) {
	given := o.Arms
	if rig.Machine.Plate.BellCranks != nil {
		if o.Arms != nil || o.Teeth != nil || o.Balls != nil || o.Links != nil {
			return nil, errBellCranks
		}
	} else if holes := rig.ArmHoles(); given == nil && len(holes) > 0 {
		given = holes
	}
	arms, err := lengths("arms", given)
	if err != nil {
		return nil, err
	}
	var parts [3][]units.Length
	for i, list := range []struct {
		name    string
		lengths []units.Length
	}{{"balls", o.Balls}, {"links", o.Links}, {"horns", o.Horns}} {
		if parts[i], err = lengths(list.name, list.lengths); err != nil {
			return nil, err
		}
	}
	teeth := sorted(o.Teeth)
	switch {
	case o.Teeth == nil:
		teeth = []int{0}
	case len(teeth) == 0:
		return nil, &InputError{"teeth", -1, "is empty"}
	}
	n := len(rig.Servos)
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
