// Package pitch goes from the plate's pose to the pitch of a blade at any
// rotor azimuth, and back; and, with package swash below it, from the sticks to
// the blade.
//
// # The rotating side
//
// A ring turns with the rotor on the plate, about the plate's own normal and in its
// plane. For the blade at bearing psi, the ring's ball is drawn at bearing psi + Phase,
// and its driver holds the ring so that the mark at psi + Driver stays in the vertical
// plane of that bearing. A link goes from
// that ball to the horn on the blade's grip, which stands on the leading or the
// trailing side of the feathering axis. Blade pitch is positive with the leading
// edge up. The direction of rotation is named as seen from above.
//
// A flybar head has a mixing arm between: its two ends are driven by the plate
// and by the bar, and the pitch link stands on it in between. On the bench the bar is
// held level.
//
// Blade pitch over one revolution is a Fourier series:
//
//	pitch(psi) = collective + cosine cos psi + sine sin psi + the rest
//
// # Accuracy
//
// Blade pitch is good to 1e-9 degree away from a horn's dead centre; the tests
// hold it against tables solved at 40 digits. Pitch from a stick position, and
// its derivatives, allocate nothing except to report an error.
package pitch
