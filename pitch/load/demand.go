package load

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Demand is what a flight mode asks of the servos while the rotor turns.
type Demand struct {
	Peaks  []Peak        `json:"peaks"`      // over all sticks
	Missed units.Ratio   `json:"missed"`     // the part of the sticks' positions that Peaks leaves out, as in Turning.Peaks
	Turns  []units.Angle `json:"turns"`      // of the arms, from end to end over the collective stick, cyclic centred
	High   []ServoLoad   `json:"high_stick"` // at high stick, cyclic centred
	// Step is by how much the pitch of the blade under the gauge changes at high
	// stick, as an amount, where all servos that carry the plate's height move by one
	// radio pulse step.
	Step units.Angle `json:"pulse_step"`

	turning Turning
	high    swash.Demand
	weight  []ServoLoad // the sense in which each servo carries a weight on the plate at high stick
}

// loadGrid is the number of positions from end to end of each stick at which the largest
// loads are looked for: ends, middles, and those between.
const loadGrid = 5

// Demand works out what the mode asks of the servos. The errors are those of Peaks,
// setup.Setup.Row and ServoLoads.
func (t Turning) Demand() (*Demand, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	n := len(t.Setup.Rig().Servos())
	d := &Demand{turning: t, Turns: make([]units.Angle, n), High: make([]ServoLoad, n)}
	var missed int
	var err error
	if d.Peaks, missed, err = t.Peaks(loadGrid); err != nil {
		return nil, err
	}
	d.Missed = units.Ratio(missed) / (loadGrid * loadGrid * loadGrid)
	if err := d.turns(); err != nil {
		return nil, err
	}
	if d.high, err = t.Setup.Setting().Demand(pitch.Stick{Collective: 1}); err != nil {
		return nil, t.fail(1, err)
	}
	state := t.head().Control.NewState()
	if err := t.ServoLoads(d.High, state, d.high); err != nil {
		return nil, t.fail(1, err)
	}
	d.weight = make([]ServoLoad, n)
	for i, e := range state.Effects {
		d.weight[i].Mean = e.Torque(swash.Load{Down: 1})
	}
	steps := make([]units.Angle, n)
	for i, s := range t.head().Control.Servos() {
		steps[i] = s.ArmPerStep()
	}
	d.Step, err = d.together(steps)
	return d, err
}

// turns works out how far the arms turn over the collective stick: a curve that turns back has
// its ends elsewhere than at the stick's.
func (d *Demand) turns() error {
	n := len(d.Turns)
	low, high := make([]units.Angle, n), make([]units.Angle, n)
	for k, stick := range setup.Sticks() {
		row, err := d.turning.Setup.Row(stick)
		if err != nil {
			return err
		}
		for i, arm := range row.Arms {
			if k == 0 {
				low[i], high[i] = arm, arm
			}
			low[i], high[i] = min(low[i], arm), max(high[i], arm)
		}
	}
	for i := range d.Turns {
		d.Turns[i] = high[i] - low[i]
	}
	return nil
}

// together returns by how much the blade's pitch changes at high stick, as an amount,
// where the arms of all servos turn by the angles given, each the way in which a
// weight on the plate would push it. Servos that carry none of it stay.
func (d *Demand) together(turns []units.Angle) (units.Angle, error) {
	g, err := d.turning.YieldUnder(d.weight, turns, d.high)
	return units.Angle(math.Abs(float64(g.Blade))), err
}

// Performance is how servos of given ratings meet a Demand.
type Performance struct {
	Servos []ServoPerformance `json:"servos"`
	// Lost is what the mean load at high stick takes from blade and plate. It is
	// zero where Dropped says which load stalls a servo.
	Lost    Yield                `json:"lost" plain:"without=Dropped"`
	Dropped *servo.OverloadError `json:"dropped"`
	// Deadband is by how much the blade's pitch can be off to either side at high
	// stick, the servos without load and all those that carry the plate's height at
	// the same end of their deadbands.
	Deadband units.Angle `json:"deadband"`
}

// ServoPerformance is how one servo meets its demand.
type ServoPerformance struct {
	At      servo.RatingPoint   `json:"rating"`
	Unrated *servo.VoltageError `json:"voltage_error"` // the voltage is not a rated one, and At is the nearest; nil where it is
	Load    units.Ratio         `json:"load"`          // the largest, as part of the stall torque
	// Stroke is how long the arm takes over the whole collective stick with its largest load
	// against it all the way; zero where Stalled says that the load stalls it.
	Stroke  units.Time           `json:"stroke" plain:"without=Stalled"`
	Stalled *servo.OverloadError `json:"stalled"`
}

// Performance works out how servos meet the demand: one rating for each, at a voltage. The
// errors are those of servo.Rating and YieldUnder; loads that stall a servo, and
// voltages outside the rated ones, are part of the answer.
func (d *Demand) Performance(ratings []servo.Rating, v units.Voltage) (*Performance, error) {
	if err := d.turning.Validate(); err != nil {
		return nil, err
	}
	n := len(d.High)
	if len(ratings) != n {
		return nil, &units.FieldError{Field: "ratings", Words: "load: ratings:", Reason: fmt.Sprintf("must be one for each of the %d servos, not %d", n, len(ratings))}
	}
	s := &Performance{Servos: make([]ServoPerformance, n)}
	yields, free := make([]units.Angle, n), make([]units.Angle, n)
	for i, driven := range d.turning.head().Control.Servos() {
		one, rating := &s.Servos[i], &ratings[i]
		err := rating.Validate()
		if err != nil {
			return nil, err
		}
		if one.At, err = rating.At(v); err != nil && !errors.As(err, &one.Unrated) {
			return nil, err
		}
		one.Load = units.Ratio(d.Peaks[i].Peak / one.At.Stall)
		if one.Stroke, err = rating.StrokeTime(one.At, d.Turns[i], d.Peaks[i].Peak); err != nil && !errors.As(err, &one.Stalled) {
			return nil, err
		}
		if yields[i], err = armYield(rating, one.At, &driven, d.High[i].Mean); err != nil && !errors.As(err, &s.Dropped) {
			return nil, err
		}
		// Without load a servo is off by half its deadband at most.
		if free[i], err = rating.ArmYield(one.At, &driven, 0); err != nil {
			return nil, err
		}
	}
	var err error
	if s.Deadband, err = d.together(free); err != nil || s.Dropped != nil {
		return s, err
	}
	s.Lost, err = d.turning.YieldUnder(d.High, yields, d.high)
	return s, err
}

// Ratings returns those of the rig's servos, in their order, and false where one has none.
func Ratings(rig *setup.Rig) ([]servo.Rating, bool) {
	var ratings []servo.Rating
	for _, s := range rig.Servos() {
		if s.Type.Rating == nil {
			return nil, false
		}
		ratings = append(ratings, s.Type.Rating.Servo())
	}
	return ratings, ratings != nil
}
