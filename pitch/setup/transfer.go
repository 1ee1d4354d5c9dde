package setup

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// TransferOptions say at how many points a transfer is exact. The zero value uses the
// points of the pitch curve that is transferred.
type TransferOptions struct {
	Extra []units.Ratio // more stick positions, 0 % to 100 %, to be points of the curve
	// MaxPoints is how many points the curve may get, by adding one after the
	// other at the whole per cent of stick where the two machines differ most,
	// until they differ by no more than half a gauge step. Fewer than there are
	// already adds none; curve.MaxPoints is the most.
	MaxPoints int
}

// Transfer is a setup transferred to another machine, so that its blades do the
// same. Package units/plain writes it as JSON. Apart from Exact and Entered it is rounded as a Sheet is.
//
// The first machine's pitch is that without its radio's pulse steps.
type Transfer struct {
	Source Setup  `json:"-"`    // what was transferred
	Target Setup  `json:"-"`    // the second machine, with what is entered there
	From   string `json:"from"` // the machines' names
	To     string `json:"to"`
	// Solution is what to enter on the second machine. The pitch of each Readings'
	// target is what the gauge of the first machine reads.
	// Cyclic is that of full right and full forward stick; full left and full
	// back follow from them, and the machines' geometry may make them differ
	// a little: Compare tells.
	Solution
	// Mode is the entered solution as a flight mode for the file of the second
	// machine. Expo, throttle curve and throttle hold are copied as they are, whatever
	// turns the rotor: they give the same rotor speed only with an equal motor, gear,
	// battery and rotor. The rotor speed is left out.
	Mode machine.Mode `json:"flight_mode"`
	// Worst and WorstEntered are where over the whole stick, at every 1 % and at
	// the points, the gauge of the second machine differs most from that of the
	// first: by the exact values without radio steps, and by the entered values with
	// the radio's pulse steps. At the points Worst is zero; between them the two
	// geometries bend the curve differently.
	Worst        Difference `json:"worst"`
	WorstEntered Difference `json:"worst_entered"`
	// Enough is how many points of the curve bring Worst within half a gauge step of
	// the second machine, added as MaxPoints says whether or not it
	// allows them; 0 where curve.MaxPoints do not.
	Enough int `json:"points_enough"`
	// Phases compare where in the rotor's turn full right and full forward stick
	// act. Rates cannot change that.
	Phases []PhaseChange `json:"phase_changes"`
}

// PhaseChange is how the phase angle of what a full cyclic stick adds, as in AddedCyclic,
// changes from one machine to another.
type PhaseChange struct {
	Stick  string      `json:"stick"` // full right or full forward
	From   units.Angle `json:"from"`
	To     units.Angle `json:"to"`
	Change units.Angle `json:"change"` // To minus From, within ±180°; 0 where one of them adds nothing
}

// Transfer transfers a setup to another machine: it finds the rates and the
// curve points that give that machine's blade the same pitch, at its own gauge, at
// every point of the setup's pitch curve, and the same cyclic pitch at full right
// and full forward stick, each for itself. A control that the setup's rates reverse
// stays reversed.
//
// A *ModeError that names the setup's flight mode is around every error. In it is
// a *TargetError where the machine does not reach a pitch; a *swash.LegError where
// a servo reaches its limit in the setup itself, so that there is nothing to
// transfer; and a *curve.RangeError or *units.FieldError for options out of range.
func (s Setup) Transfer(to *Rig, options TransferOptions) (*Transfer, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if to == nil {
		return nil, &ModeError{s.mode.file.Name, "transfer", errors.New("there is no machine to transfer it to")}
	}
	c := transferrer{from: s, to: to}
	var err error
	if c.source, err = s.rig.newSolver(); err != nil {
		return nil, c.fail("transfer", err)
	}
	if c.target, err = to.newSolver(); err != nil {
		return nil, c.fail("transfer to "+to.file.Name, err)
	}
	want, err := c.wanted(options.Extra)
	if err != nil {
		return nil, err
	}
	best, enough, err := c.refine(want, options.MaxPoints)
	if err != nil {
		return nil, err
	}
	t := &Transfer{
		Source:   s,
		From:     s.rig.file.Name,
		To:       to.file.Name,
		Solution: *best.solution,
		Worst:    best.worst,
		Enough:   enough,
	}
	if t.WorstEntered, err = c.worst(t.Entered, to.readAt); err != nil {
		return nil, err
	}
	if t.Phases, err = c.phases(&t.Exact); err != nil {
		return nil, err
	}
	t.Mode = c.mode(&t.Solution)
	units.Tidy(&t.Enter)
	units.Tidy(&t.Readings)
	units.Tidy(&t.Cyclic)
	units.Tidy(&t.Mode)
	units.Tidy(&t.Worst)
	units.Tidy(&t.WorstEntered)
	units.Tidy(&t.Phases)
	t.Target = Setup{to, &mode{file: t.Mode.Clone(), setting: t.Entered, throttle: s.mode.throttle}}
	return t, nil
}

// transferrer transfers a setup.
type transferrer struct {
	from           Setup
	to             *Rig
	source, target *pitch.Solver
	added          [2]pitch.Cyclic // by the setup at full cyclic
}

func (c *transferrer) fail(where string, err error) error {
	return &ModeError{c.from.mode.file.Name, where, err}
}

func (c *transferrer) failAt(stick float64, rig *Rig, err error) error {
	return c.fail(fmt.Sprintf("stick %v on %s", units.Ratio(stick), rig.file.Name), err)
}

// wanted reads off the setup what the other machine is to do.
func (c *transferrer) wanted(extra []units.Ratio) (pitch.Wanted, error) {
	setting := &c.from.mode.setting
	want := pitch.Wanted{Kind: setting.Pitch.Kind(), Expo: setting.Expo}
	var sticks []float64
	for _, p := range setting.Pitch.Points() {
		sticks = append(sticks, p.X)
	}
	for i, stick := range extra {
		if !(stick >= 0 && stick <= 1) {
			return want, c.fail(fmt.Sprintf("extra point %d", i+1), &curve.RangeError{Name: "stick", Value: float64(stick), Lo: 0, Hi: 1})
		}
		sticks = append(sticks, float64(stick))
	}
	slices.Sort(sticks)
	for _, stick := range slices.CompactFunc(sticks, near) {
		target, err := c.read(stick)
		if err != nil {
			return want, err
		}
		want.Collective = append(want.Collective, target)
	}
	for i, full := range pitch.FullCyclic() {
		var err error
		if c.added[i], err = c.source.Added(*setting, full); err != nil {
			return want, c.fail(full.Cyclic()+" on "+c.from.rig.file.Name, err)
		}
		rate := [...]units.Ratio{setting.Rates.Right, setting.Rates.Forward}[i]
		*[...]*units.Angle{&want.Right, &want.Forward}[i] = units.Angle(math.Copysign(float64(c.added[i].Amplitude()), float64(rate)))
	}
	return want, nil
}

// read returns what the gauge of the setup's machine reads at a stick position.
func (c *transferrer) read(stick float64) (machine.Target, error) {
	p, err := c.source.Reading(c.from.mode.setting, pitch.Stick{Collective: stick})
	if err != nil {
		return machine.Target{}, c.failAt(stick, c.from.rig, err)
	}
	return machine.Target{Stick: units.Ratio(stick), Pitch: p}, nil
}

// unreached reports what keeps the other machine from a position of the stick: what
// is wanted there is out of its reach, or else only its own curve is, by err.
func (c *transferrer) unreached(want machine.Target, err error) error {
	if _, out := c.target.Demand(want); out != nil {
		_, err = c.to.unsolved(out)
	}
	return c.failAt(float64(want.Stick), c.to, err)
}

// attempt is a solution, and where it is worst.
type attempt struct {
	solution *Solution
	worst    Difference
}

func (c *transferrer) attempt(want pitch.Wanted) (attempt, error) {
	solution, err := c.target.Solve(want)
	var part string
	if err != nil {
		part, err = c.to.unsolved(err)
	}
	switch {
	case part == ".cyclic" && !errors.As(err, new(*TargetError)):
		// Mid collective stick, between the points, is what it does not reach.
		mid, readErr := c.read(pitch.FullCyclic()[0].Collective)
		if readErr != nil {
			return attempt{}, readErr
		}
		return attempt{}, c.unreached(mid, err)
	case err != nil:
		return attempt{}, c.fail("transfer to "+c.to.file.Name, err)
	}
	worst, err := c.worst(solution.Exact, c.target.Reading)
	return attempt{solution, worst}, err
}

// within is by how much the gauges may differ between the points: half a step.
func (c *transferrer) within() units.Angle { return max(c.to.file.Gauge.Step/2, swash.Level) }

// refine adds points where the machines differ most. It returns the best attempt of
// up to most points, or the first where that has more, and how many points are
// enough.
func (c *transferrer) refine(want pitch.Wanted, most int) (best attempt, enough int, err error) {
	if best, err = c.attempt(want); err != nil {
		return best, 0, err
	}
	for last := best; ; {
		if size(last.worst.Pitch) <= c.within() {
			return best, len(want.Collective), nil
		}
		stick := float64(last.worst.Stick)
		if len(want.Collective) == curve.MaxPoints ||
			slices.ContainsFunc(want.Collective, func(t machine.Target) bool { return near(float64(t.Stick), stick) }) {
			return best, 0, nil
		}
		target, err := c.read(stick)
		if err != nil {
			return best, 0, err
		}
		want.Collective = append(want.Collective, target)
		slices.SortFunc(want.Collective, func(a, b machine.Target) int { return cmp.Compare(a.Stick, b.Stick) })
		if last, err = c.attempt(want); err != nil {
			return best, 0, nil // the curve through more points runs out of reach
		}
		if len(want.Collective) <= most && size(last.worst.Pitch) < size(best.worst.Pitch) {
			best = last
		}
	}
}

// worst returns where over the stick the reading of a setting on the other machine
// differs most from the setup's.
func (c *transferrer) worst(setting pitch.Setting, read func(pitch.Setting, pitch.Stick) (units.Angle, error)) (Difference, error) {
	var worst Difference
	for _, stick := range positions(c.from.mode.setting.Pitch, setting.Pitch) {
		want, err := c.read(stick)
		if err != nil {
			return worst, err
		}
		got, err := read(setting, pitch.Stick{Collective: stick})
		if err != nil {
			return worst, c.unreached(want, err)
		}
		if by := got - want.Pitch; size(by) > size(worst.Pitch) {
			worst = Difference{want.Stick, by}
		}
	}
	return worst, nil
}

// phases compares where full cyclic acts.
func (c *transferrer) phases(setting *pitch.Setting) ([]PhaseChange, error) {
	var phases []PhaseChange
	for i, full := range pitch.FullCyclic() {
		added, err := c.target.Added(*setting, full)
		if err != nil {
			return nil, c.fail(full.Cyclic()+" on "+c.to.file.Name, err)
		}
		from := c.from.rig.addedCyclic(c.added[i], full)
		to := c.to.addedCyclic(added, full)
		phases = append(phases, PhaseChange{full.Cyclic(), from.PhaseAngle, to.PhaseAngle, from.to(to).PhaseAngle})
	}
	return phases, nil
}

// mode returns the entered solution as a flight mode.
func (c *transferrer) mode(s *Solution) machine.Mode {
	from := c.from
	rates := s.Enter.Rates
	throttle := from.mode.file.Throttle
	throttle.Points = slices.Clone(throttle.Points)
	return machine.Mode{
		Name:         from.mode.file.Name,
		Rates:        &rates,
		Expo:         units.Ratio(from.mode.setting.Expo),
		Pitch:        &machine.Curve{Kind: s.Entered.Pitch.Kind(), Points: slices.Clone(s.Enter.Points)},
		Throttle:     throttle,
		ThrottleHold: from.mode.file.ThrottleHold,
		Held:         from.mode.file.Held,
	}
}
