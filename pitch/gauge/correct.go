package gauge

import (
	"fmt"
	"math"
	"slices"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/gonum/mat"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// Correction is what to do to a build so that its blades do what its file wants of
// them: the targets of its modes and, where a mode has none that it can reach, what its
// curve and rates do on the machine as drawn, with its servo arms square.
type Correction struct {
	// Steps are in the order of the work: teeth on the spline, links under the plate and
	// pitch links first, then sub-trims, then, mode by mode, the collective rate, points of
	// the pitch curve and the cyclic rates. An end point of one servo is never among them:
	// it tilts a plate that has several.
	Steps []Step `json:"to_do"`
	// Before and After are the checks of all modes as the machine stands and once the
	// steps are done.
	Before []Check `json:"before"`
	After  []Check `json:"after"`
	// Within is set where all of Before are within half a step of the gauge of what is
	// wanted, and those over the collective stick are known to a step. It says nothing of
	// what the gauge does not show, and nothing of readings left out as outliers.
	Within bool `json:"within"`
	// Unsure is set where it is not Within and there are no steps, because the readings do
	// not say enough: take those of Next first. Where there are no steps and it is neither,
	// no half turn and no step of the radio makes it better.
	Unsure bool `json:"unsure"`
	// Unmet are the modes that cannot be made to do what is wanted, by name, and why: a
	// *setup.TargetError within for targets that the file's machine or the build does not
	// reach, or a *RateError.
	Unmet map[string]error `json:"unmet_modes"`
	work  *work
}

// Predict returns what the build shows at a point once the steps are done. The error is a
// *units.FieldError, or what keeps the build from getting there.
func (c *Correction) Predict(s Point) (Prediction, error) {
	if c.work == nil {
		return Prediction{}, errNoFit
	}
	value, slope, err := c.work.fit.predict(&s)
	return c.work.fit.prediction(value, slope), err
}

// File returns the machine file for what the radio has once the steps are done: its
// sub-trims, and the rates and curves of all modes. Compare the next readings with it.
// Links and arms stay as they were drawn, for turning them brings the build nearer to that.
func (c *Correction) File() *machine.Machine {
	if c.work == nil {
		return &machine.Machine{}
	}
	return c.work.set.File()
}

// Action is a kind of step.
type Action int

// The actions, in the order of the work.
const (
	MoveTooth     Action = iota // move a servo arm on its spline: teeth, above 0 raises the ball
	TurnLink                    // turn a link under the plate: half turns of one end, above 0 is longer
	TurnPitchLink               // turn a blade's pitch link likewise
	SubTrim                     // change a servo's sub-trim: pulse width
	Rate                        // change the collective rate or a cyclic rate
	CurvePoint                  // change a point of a pitch curve
)

var actionNames = [...]string{"move tooth", "turn link", "turn pitch link", "sub-trim", "rate", "curve point"}

func (a Action) String() string {
	if a < 0 || int(a) >= len(actionNames) {
		return fmt.Sprintf("Action(%d)", int(a))
	}
	return actionNames[a]
}

// Control is what a rate is of.
type Control int

// The controls.
const (
	NoControl Control = iota
	Collective
	RightCyclic
	ForwardCyclic
)

var controlNames = [...]string{"none", "collective", "right cyclic", "forward cyclic"}

func (c Control) String() string {
	if c < 0 || int(c) >= len(controlNames) {
		return fmt.Sprintf("Control(%d)", int(c))
	}
	return controlNames[c]
}

// Step is one thing to do, in whole units that a hand or the radio can make.
type Step struct {
	Action Action
	What   string // to change, such as "right rear servo link"; for TurnPitchLink the blade, such as "blade 1"
	// Index is the servo's, the link's, the blade's or the point's, from 0: in the order of the
	// rig's servos, of Parts.Links and of the curve. A Rate has none.
	Index   int
	Control Control // whose rate a Rate changes; NoControl for the others
	Mode    string  // of a Rate or CurvePoint; "" for the others
	Count   float64 // by how much: teeth, half turns, radio steps
	// From and To are the values before and after, of what has one on the radio: a
	// sub-trim's pulse width in seconds, and a ratio for a rate or a point of a curve.
	From, To float64
	// After is what should be seen once this step and those before it are done: with collective
	// and cyclic at zero, or at the checks of the mode.
	After []Check
}

// Do says what to do in words.
func (s *Step) Do() string {
	direction := func(up, down string) string {
		if s.Count < 0 {
			return down
		}
		return up
	}
	what := s.What
	if first, size := utf8.DecodeRuneInString(what); size > 0 {
		what = string(unicode.ToUpper(first)) + what[size:]
	}
	switch s.Action {
	case MoveTooth:
		return fmt.Sprintf("%s: move the arm's ball %s by %s of the spline.", what, direction("up", "down"), teeth(s.Count))
	case TurnLink:
		return fmt.Sprintf("%s: %s by %s.", what, direction("lengthen", "shorten"), linkage.Turns(s.Count))
	case TurnPitchLink:
		return fmt.Sprintf("%s: %s the pitch link by %s.", what, direction("lengthen", "shorten"), linkage.Turns(s.Count))
	case SubTrim:
		return fmt.Sprintf("Set the sub-trim of the %s from %s to %s.", s.What, signed(s.From), signed(s.To))
	}
	return fmt.Sprintf("Mode %q: set the %s from %v to %v.", s.Mode, s.What, units.Round(units.Ratio(s.From), 2), units.Round(units.Ratio(s.To), 2))
}

// signed says a sub-trim in seconds, to a hundredth of a microsecond, with its sign unless
// it is 0.
func signed(trim float64) string {
	p := units.Round(units.PulseWidth(trim), 2)
	if p > 0 {
		return "+" + p.String()
	}
	return p.String()
}

// teeth says a count of teeth without its sign in words, so that it stands apart from other
// numbers.
func teeth(count float64) string {
	words := [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	switch count = math.Abs(count); {
	case count == 1:
		return "one tooth"
	case count < float64(len(words)) && count == math.Trunc(count):
		return words[int(count)] + " teeth"
	}
	return fmt.Sprintf("%.0f teeth", count)
}

// Check is one thing to look at with the gauge.
type Check struct {
	Where   string      `json:"where"`          // such as "collective and cyclic at zero" or `mode "hover", collective stick at 100 %`
	At      string      `json:"at"`             // Where without the mode
	Mode    string      `json:"mode,omitempty"` // "" with collective and cyclic at zero, where Stick is not used
	Stick   pitch.Stick `json:"sticks" plain:"with=Mode"`
	Bearing units.Angle `json:"bearing"`     // direction in which the blade points, from the nose
	Blade   int         `json:"blade_index"` // from 0
	Wanted  units.Angle `json:"wanted"`
	Pitch   Prediction  `json:"calculated"` // calculated, of the blade
	// Reads is what the gauge should show: the pitch and what the gauge's zero is off by.
	// Its Sigma has the gauge's own reading error in it.
	Reads Prediction `json:"reads"`
}

// Cyclic reports whether the cyclic stick is out of its centre.
func (c *Check) Cyclic() bool { return cyclic(c.Stick) }

func cyclic(s pitch.Stick) bool { return s.Right != 0 || s.Forward != 0 }

// Off returns by how much the pitch is more than what is wanted.
func (c *Check) Off() units.Angle { return c.Pitch.Value - c.Wanted }

// work is a build on the way to what is wanted of it.
type work struct {
	session  *Session // of the build as it was read
	gauge    int      // that the checks are for
	wanted   *setup.Rig
	set      *setup.Rig // as the radio is set, its links and arms as the file says
	settings []pitch.Setting
	fit      *fit // the build as it now is
	goals    []goal
	steps    []Step
	unmet    map[string]error
	doubtful bool // a step was left out that may have been for the better
}

// Correct returns what to do about the build. The first pitch gauge of the session is the
// one that checks are for. The error is a *units.FieldError for a session without a pitch gauge,
// or what keeps the build from being worked out.
func (r *Result) Correct() (*Correction, error) {
	if r.fit == nil {
		return nil, errNoFit
	}
	w, err := r.begin()
	if err != nil {
		return nil, err
	}
	return w.correct()
}

func (w *work) correct() (*Correction, error) {
	c := &Correction{Unmet: w.unmet, work: w}
	var err error
	if c.Before, err = w.checks(w.goals); err != nil {
		return nil, err
	}
	if c.Within = w.near(c.Before) && w.known(c.Before); c.Within {
		c.After = c.Before
		return c, nil
	}
	for _, stage := range []func() error{w.teeth, w.links, w.pitchLinks, w.subTrims, w.radio} {
		if err := stage(); err != nil {
			return nil, err
		}
	}
	if c.After, err = w.checks(w.goals); err != nil {
		return nil, err
	}
	c.Steps = w.steps
	c.Unsure = len(c.Steps) == 0 && (w.doubtful || !w.known(c.Before))
	return c, nil
}

func (r *Result) begin() (*work, error) {
	b := r.fit.session
	rig := b.model.rig
	gauge := slices.IndexFunc(b.gauges, func(g Instrument) bool { return g.measures(BladePitch) })
	if gauge < 0 {
		return nil, own(refuse("gauges", "do not measure blade pitch; add a pitch gauge to the session"))
	}
	// What is wanted is the machine as drawn: the arms square without sub-trims, which are
	// there to mend what it is not, and the radio without steps.
	parts := rig.Parts()
	for i := range parts.Servos {
		s := &parts.Servos[i]
		s.Mount, s.SubTrim, s.Step = 0, 0, 0
	}
	wanted, err := rig.With(parts)
	if err != nil {
		return nil, err
	}
	set, err := rig.With(rig.Parts())
	if err != nil {
		return nil, err
	}
	w := &work{session: b, gauge: gauge, wanted: wanted, set: set, fit: r.fit, unmet: map[string]error{}}
	for i, m := range rig.Modes() {
		w.settings = append(w.settings, m.Setting())
		if m.Unmet() != nil {
			w.unmet[m.Name()] = m.Unmet()
		}
		wanted := w.wanted.Modes()[i]
		switch {
		case wanted.Solved() != nil:
			w.wanted = wanted.Enter(wanted.Solved().Exact).Rig()
		case m.Solved() != nil: // within the file's reach only as it is mounted and trimmed
			w.wanted = wanted.Enter(m.Solved().Exact).Rig()
		}
	}
	if err := w.aim(); err != nil {
		return nil, err
	}
	return w, w.move(r.fit.x)
}

// setServos sets the radio's servos, for a change of sub-trims. The error is that of
// setup.Rig.Refit.
func (w *work) setServos(servos []servo.Servo) error {
	parts := w.set.Parts()
	parts.Servos = servos
	set, err := w.set.Refit(parts)
	if err != nil {
		return err
	}
	w.set = set
	return w.move(w.fit.x)
}

// move makes x what the parameters are off by, and takes the radio as it is set. What is
// known of them stays as it was: turns and steps are taken as exact.
func (w *work) move(x []float64) error {
	for i, setting := range w.settings {
		w.set = w.set.Modes()[i].Enter(setting).Rig()
	}
	m := *w.session.model
	m.rig = w.set
	session := &Session{model: &m, gauges: w.session.gauges}
	build, err := m.newBuild()
	if err != nil {
		return err
	}
	if err := build.set(x); err != nil {
		return err
	}
	w.fit = &fit{session: session, build: build, x: append([]float64(nil), x...), covariance: w.fit.covariance}
	return w.send()
}

// turned returns what the parameters are off by once one of them is changed by an amount,
// and false where that one is taken as the file says, so that nothing is known to be wrong
// with it.
func (w *work) turned(p Parameter, by float64) ([]float64, bool) {
	x := append([]float64(nil), w.fit.x...)
	i, ok := w.session.model.place(p)
	if ok {
		x[i] += by
	}
	return x, ok
}

// near reports whether all checks are as near to what is wanted as the gauge tells.
func (w *work) near(checks []Check) bool {
	step := w.session.gauges[w.gauge].Step
	return !slices.ContainsFunc(checks, func(c Check) bool { return math.Abs(float64(c.Off())) > float64(step)/2 })
}

// known reports whether the checks over the collective stick are known to a step of the
// gauge.
func (w *work) known(checks []Check) bool {
	step := w.session.gauges[w.gauge].Step
	return !slices.ContainsFunc(checks, func(c Check) bool { return !c.Cyclic() && c.Pitch.Sigma > step })
}

// worthwhile reports whether a step is: it brings an amount nearer to nothing by more
// than the least that is worth the work, and by more than half the standard
// error of that amount, so that it is for the better in three cases of five or more:
// where the amount is below 0.5 standard errors, and all of it is taken away, the truth
// is beyond half of it with a probability of Φ(0.25) = 0.60.
func (w *work) worthwhile(before, after float64, least, sigma units.Angle) bool {
	gain := math.Abs(before) - math.Abs(after)
	if gain <= float64(least) {
		return false
	}
	sure := gain > float64(sigma)/2
	w.doubtful = w.doubtful || !sure
	return sure
}

// leastPitch is the least change of pitch that is worth a step: a quarter of one of the
// gauge's.
func (w *work) leastPitch() units.Angle { return w.session.gauges[w.gauge].Step / 4 }

// leastTilt is the least change of the plate's tilt that is: half of the limit for it.
func (w *work) leastTilt() units.Angle { return w.set.Limits().Tilt / 2 }

// look is a quantity of a build, and what is known of it.
type look struct {
	value float64
	slope *mat.VecDense // over x
}

// see looks at places of the build as it is.
func (w *work) see(places ...place) ([]look, error) {
	f := w.fit
	n := len(f.x)
	rows := make([]row, len(places))
	for i, p := range places {
		rows[i] = row{place: p, zero: -1}
	}
	values, slopes := make([]float64, len(rows)), make([]float64, len(rows)*n)
	if err := f.build.show(rows, f.x, values, slopes); err != nil {
		return nil, err
	}
	looks := make([]look, len(rows))
	for i := range rows {
		looks[i] = look{value: values[i], slope: mat.NewVecDense(n, slopes[i*n:][:n])}
	}
	return looks, nil
}

// seeGoals looks at the places of goals.
func (w *work) seeGoals(goals []goal) ([]look, error) {
	places := make([]place, len(goals))
	for i := range goals {
		places[i] = goals[i].place
	}
	return w.see(places...)
}

// mean returns the mean of looks.
func mean(looks []look) look {
	all := look{slope: mat.NewVecDense(looks[0].slope.Len(), nil)}
	for _, l := range looks {
		all.value += l.value / float64(len(looks))
		all.slope.AddScaledVec(all.slope, 1/float64(len(looks)), l.slope)
	}
	return all
}

// sigma returns the standard error of a look.
func (w *work) sigma(l look) units.Angle {
	return units.Angle(math.Sqrt(w.fit.variance(l.slope)))
}

// reads returns what the gauge should show of a look, its own errors included.
func (w *work) reads(l look) Prediction {
	f := w.fit
	g := &w.session.gauges[w.gauge]
	slope := mat.VecDenseCopyOf(l.slope)
	value := l.value
	if zero := w.session.model.zeros[w.gauge]; zero >= 0 {
		value += f.x[zero]
		slope.SetVec(zero, 1)
	}
	sigma := math.Hypot(math.Sqrt(f.variance(slope)), float64(g.Sigma()))
	return Prediction{units.Angle(value), units.Angle(sigma)}
}
