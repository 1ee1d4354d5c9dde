// Package gauge works out, from the readings of a pitch gauge, what a machine as built
// really is, what to adjust on it, and what to measure next. A machine file (package
// setup) says what was meant. On the bench the gauge reads -10°, +1° and +12° where -11°,
// 0° and +11° were wanted. Start with a Session:
//
//	session, err := gauge.NewSession(rig, 2, gauge.DefaultTolerances(), gauge.PitchGauge(rig))
//	result, err := session.Fit(readings) // what the machine as built is off by
//	correction, err := result.Correct()  // what to adjust, step by step
//	plan, err := result.Next(3)          // what to measure next
//
// The package example is a whole program, from the machine file to the steps. Study is
// for the drawing board: it asks how random builds of a machine come out.
//
// # Model
//
// A build is the machine as built: that of the file, with each Parameter off by a little.
// Parameters are the centre and the travel of each servo, the radio's end points, the radii
// of the servo arms (also called servo horns), the links under the swashplate, the height
// of the hub, and each blade's pitch link and pitch horn. The zero of a gauge is a
// parameter too. The radio is as in the file, its steps and limits included: a reading is
// compared with the pulse that the radio really sends. All of the geometry is exact, and
// so are its derivatives.
//
// There is one approximation. What an end point is off by turns the arm without the
// radio's steps. One step is some 0.05° at the blade. A gauge that reads finer than that
// asks for more than the model has, and the standard errors come out too small.
//
// Before anything is measured, each parameter is off by a normal number, whose standard
// deviation is that of Tolerances. A reading is off by a normal number too. Its variance is
// that of rounding to the gauge's step, the square of step/√12, plus that of repeating
// the reading. Fit finds the most probable build. It has the least sum of squares, of
// readings over their standard deviations and of parameters over theirs. Standard errors
// are those of the model made linear there.
//
// # What is known
//
// Readings seldom tell all parameters apart. A longer pitch link, a lower hub and a gauge
// that is off at zero look alike to a gauge on one blade. Each Estimate has a Verdict, by
// the share of the variance before that the readings have removed. With 75 % or more the
// parameter is Known. With less than 5 % it is Unknown. Between them it is KnownTogether,
// and Estimate.With lists the others that it is not told apart from.
//
// What such parameters do together is often known all the same. A Combination says by how
// much they change one of the readings, where its standard error is half of what it was
// before or less. The amount of a single parameter that is not Known is what is likely,
// no more.
//
// # Readings that do not agree
//
// Two tests look for trouble. Each has one false alarm in a thousand. The first is of the
// sum of squares, by chi-square with as many degrees of freedom as there are readings. The
// second is of the reading that is furthest from what all others say, over its standard
// deviation, by the normal distribution shared among the readings (Bonferroni). Where one
// fails, Fit looks for the smallest set of up to three readings without which both pass.
// It leaves that set out, and names it in Result.Outliers, if
//
//   - the set holds no more than a third of the readings;
//   - the other readings refute each of the set, and leave no more than a quarter of the
//     variance that its reading had before;
//   - no other set does nearly as well, to 6 in chi-square;
//   - no single parameter, far beyond its tolerance, explains all readings as well.
//
// Otherwise there are no numbers. A *MisfitError says that the readings do not belong to
// this machine as built, and which test says so. It lists the readings that are suspect.
// It also lists any parameter that would explain them alone if it were far off, such as a
// servo arm a tooth off on its spline.
//
// # Corrections
//
// Result.Correct goes about a build as a practitioner does:
//
//  1. teeth on the spline;
//  2. half turns of the links under the swashplate, to level it;
//  3. half turns of the pitch links, to bring the blades into track and to zero;
//  4. sub-trims;
//  5. mode by mode, the collective rate, points of the pitch curve, and the cyclic rates.
//
// The end point of a single servo is never among them: on a plate of several servos it
// tilts the plate. Each step is in whole units that a hand or the radio can make. A step
// must bring what it is for nearer by more than a quarter of the gauge's step, or by half
// of the limit of tilt. It must also gain more than half the standard error of what is
// off, so that it is for the better in three cases of five or more. Where all checks are
// within half a step of the gauge, there are no steps. That is so of blade pitch at the
// stick positions of the checks. It says nothing of play, binding, loads, or tracking in
// flight, which a gauge does not show.
//
// What is wanted is what the file's machine does as drawn, with its servo arms square.
// Mounts and sub-trims of the file belong to the machine and the radio as they are. For
// readings after the steps, give the file what the radio then has: the sub-trims, and the
// rates and the curve of every mode, also where there are targets. Correction.File does
// it. The geometry and the blades' pitch after each step are exact for the build that was
// found, and their standard errors are those of the readings. Turns and radio steps are
// taken as exact.
//
// # Accuracy
//
// Fits agree with SciPy's, on a model of the same machine written apart from this one, to
// 1e-6 standard errors. 2,000 builds were drawn from the default tolerances and read with
// fifteen readings, rounded to the gauges' steps. Each prediction and each parameter lies
// within one standard error in 66 % to 71 % of the builds, and within 1.96 in 94 % to 97 %.
// The normal distribution has 68.3 % and 95 %.
package gauge
