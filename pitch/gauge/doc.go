// Package gauge tells from the readings of a pitch gauge what a build really is.
//
// A machine file says what was meant. On the bench the gauge reads -10°, +1° and +12°
// where -11°, 0° and +11° were wanted. This package finds which build, near the file's,
// shows those readings, how certain that is, and what to measure next.
//
//	session, err := gauge.NewSession(rig, 2, gauge.DefaultTolerances(), gauge.PitchGauge(rig))
//	result, err := session.Fit(readings)    // what the parts are off by
//	p, err := result.Predict(point)        // what any other reading would be
//	plan, err := result.Next(3)           // what to measure next
//	work, err := result.Correct()         // what to turn
//
// # Model
//
// A build is the machine of the file with its parts off by a little: the centre and gain
// of each servo, the radio's end points, arm radii, the links under the plate, the hub
// height, and each blade's pitch link and horn. The gauge's own zero is a part too. The
// radio is as in the file, its steps and limits included: a reading is compared with the
// pulse that the radio really sends. All of the geometry is exact, and so are its
// derivatives. What an end point is off by turns the arm without the radio's steps: a gauge
// that reads finer than one pulse step shows at the blade, some 0.05°, is asked for more
// than that, and its intervals come out too narrow.
//
// Before anything is measured each part is taken to be off by a normal number with the
// standard deviation of Tolerances. A reading is off by a normal number whose standard
// deviation is that of rounding to the gauge's step, step/√12, and that of repeating the
// reading, together. The build that is found is the most probable one: it has the least
// sum of squares of readings over their standard deviations and of parts over theirs.
// Standard errors are those of the model made linear there.
//
// # Verdicts
//
// Readings seldom tell all parts apart: a longer pitch link, a lower hub and a gauge that
// is off at zero look alike to a gauge on one blade. Each Estimate has a Verdict, by the
// share of the variance before that the readings have removed: 75 % or more is Known,
// less than 5 % Unknown, and between them KnownTogether, with the parts that it is shared with.
// Of parts that share, what they do together is often settled: a Combination says by how
// much they change one of the readings, where its standard error is half of what it was
// before or less. The numbers of a part that is not settled are what is likely, no more.
//
// # Readings that do not fit
//
// Two tests look for trouble, each with one false alarm in a thousand: of the sum of
// squares, by chi-square with as many degrees of freedom as readings; and of the worst
// residual of a reading from the fit to all the others, over its standard deviation, by
// the normal distribution shared among the readings (Bonferroni). Where one fails, the
// smallest set of readings, of up to three, is looked for without which both pass. It
// is left out, and named in Result.Outliers, if
//
//   - it holds no more than a third of the readings;
//   - each of it is refuted by the others, and they leave no more than a quarter of the
//     variance that its reading had before;
//   - no other set does nearly as well, to 6 in chi-square;
//   - no single part, far beyond its tolerance, explains all readings as well.
//
// Else there are no numbers: a *MisfitError says that the readings do not belong to this
// build, which readings are suspect, and which part alone would explain them if it were far
// off, such as a servo arm a tooth off on its spline.
//
// # Corrections
//
// Result.Correct goes about a build as a practitioner does: teeth on the spline, half
// turns of the links that level the plate, half turns of the pitch links that bring the
// blades into track and to zero, then sub-trims, and then, mode by mode, the collective rate,
// points of the pitch curve and the cyclic rates. One servo's end point is never among them:
// on a plate of several servos it makes the plate tilt. Each step is in whole units that a
// hand or the radio can make. Steps are taken only where they bring what they mend nearer by
// more than a quarter of the gauge's step, or half of the limit of tilt, and where that gain
// is more than half the standard error of what is off: they are then for the better in three
// cases of five or more. Where all checks are within half a step of the gauge there are no
// steps. That says so much of blade pitch at the checks' positions of the sticks, and nothing
// of play, binding, loads, or tracking in flight, which a gauge does not show.
//
// What is wanted is what the file's machine does as drawn, its servo arms square: mounts and
// sub-trims of the file are of the build and the radio as they are. So that readings taken
// after the steps say what they should, the file must first be given what the radio then
// has: sub-trims, and rates and curve of every mode, also where there are targets. The
// geometry and the blades' pitch after each step are exact for the build that was found,
// and their standard errors are those of the readings; turns and radio steps are taken to
// be exact.
//
// # Accuracy
//
// Fits agree with SciPy's on a model of the same machine written apart from this one to
// 1e-6 standard errors. Of 2,000 builds drawn from the default tolerances and read with
// fifteen readings rounded to the gauges' steps, each prediction and each part lies within
// one standard error in 66 % to 71 % of the builds and within 1.96 in 94 % to 97 %, where
// 68.3 % and 95 % are due.
package gauge
