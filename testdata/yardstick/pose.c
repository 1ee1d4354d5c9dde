/* Yardstick: the plate's pose from three arm angles in plain C, by Newton's method with the analytic Jacobian on
   the equations of package swash: what a careful C programmer would get on this machine. Processor time, best of several runs.
   cc -O3 -march=native -o pose pose.c -lm && ./pose */
#include <math.h>
#include <stdio.h>
#include <time.h>
typedef struct { double S[3], a[3], v[3], r, L, rc, rs, d; } Leg; /* rc, rs: ball radius times cos and sin of bearing less guide */
typedef struct { Leg leg[3]; double sg, cg; } Plate;
static double rad(double x) { return x * M_PI / 180; }

static void upright(Leg *l, double bearing, double guide, double R, double r, double L, double h) {
	double s = sin(rad(bearing)), c = cos(rad(bearing)), a[3] = {s, c, 0}, A[3] = {R * s, R * c, h - L};
	for (int i = 0; i < 3; i++) l->a[i] = a[i], l->S[i] = A[i] - r * a[i];
	l->v[0] = l->v[1] = 0; l->v[2] = 1;
	l->r = r; l->L = L; l->d = 0;
	l->rc = R * cos(rad(bearing - guide)); l->rs = R * sin(rad(bearing - guide));
}

/* x: height, and the level parts of the plate's normal. Returns the number of steps, -1 for none found. */
static int pose(const Plate *p, const double q[3], double x[3]) {
	double A[3][3], sg = p->sg, cg = p->cg;
	for (int i = 0; i < 3; i++) {
		const Leg *l = &p->leg[i];
		double s = sin(q[i]), c = cos(q[i]);
		for (int k = 0; k < 3; k++) A[i][k] = l->S[k] + l->r * (l->a[k] * c + l->v[k] * s);
	}
	for (int it = 1; it <= 12; it++) {
		double nx = x[1], ny = x[2], nz = sqrt(1 - nx * nx - ny * ny), zx = -nx / nz, zy = -ny / nz;
		double c = nx * sg + ny * cg, iN = 1 / sqrt(nz * nz + c * c), a = nz * iN, b = -c * iN;
		double Nx = (nz * zx + c * sg) * iN, Ny = (nz * zy + c * cg) * iN;
		double ax = (zx - a * Nx) * iN, ay = (zy - a * Ny) * iN, bx = (-sg - b * Nx) * iN, by = (-cg - b * Ny) * iN;
		double t = sg * ny - cg * nx;
		/* p = (a sg, a cg, b), q = p x n, and their derivatives by nx and ny */
		double q0 = a * cg * nz - b * ny, q1 = b * nx - a * sg * nz, q2 = a * t;
		double q0x = cg * (ax * nz + a * zx) - bx * ny, q1x = bx * nx + b - sg * (ax * nz + a * zx), q2x = ax * t - a * cg;
		double q0y = cg * (ay * nz + a * zy) - by * ny - b, q1y = by * nx - sg * (ay * nz + a * zy), q2y = ay * t + a * sg;
		double F[3], J[3][3];
		for (int i = 0; i < 3; i++) {
			const Leg *l = &p->leg[i];
			double rc = l->rc, rs = l->rs, d = l->d;
			double ex = rc * a * sg + rs * q0 + d * nx - A[i][0], ey = rc * a * cg + rs * q1 + d * ny - A[i][1], ez = x[0] + rc * b + rs * q2 + d * nz - A[i][2];
			F[i] = 0.5 * (ex * ex + ey * ey + ez * ez - l->L * l->L);
			J[i][0] = ez;
			J[i][1] = ex * (rc * ax * sg + rs * q0x + d) + ey * (rc * ax * cg + rs * q1x) + ez * (rc * bx + rs * q2x + d * zx);
			J[i][2] = ex * (rc * ay * sg + rs * q0y) + ey * (rc * ay * cg + rs * q1y + d) + ez * (rc * by + rs * q2y + d * zy);
		}
		double c0 = J[1][1] * J[2][2] - J[1][2] * J[2][1], c1 = J[1][2] * J[2][0] - J[1][0] * J[2][2], c2 = J[1][0] * J[2][1] - J[1][1] * J[2][0];
		double id = 1 / (J[0][0] * c0 + J[0][1] * c1 + J[0][2] * c2);
		double e0 = (F[0] * c0 + J[0][1] * (J[1][2] * F[2] - F[1] * J[2][2]) + J[0][2] * (F[1] * J[2][1] - J[1][1] * F[2])) * id;
		double e1 = (J[0][0] * (F[1] * J[2][2] - J[1][2] * F[2]) + F[0] * c1 + J[0][2] * (J[1][0] * F[2] - F[1] * J[2][0])) * id;
		double e2 = (J[0][0] * (J[1][1] * F[2] - F[1] * J[2][1]) + J[0][1] * (F[1] * J[2][0] - J[1][0] * F[2]) + F[0] * c2) * id;
		x[0] -= e0; x[1] -= e1; x[2] -= e2;
		if (fabs(e0) < 5e-9 && fabs(e1) < 1e-10 && fabs(e2) < 1e-10) return it;
	}
	return -1;
}

static double now(void) { struct timespec t; clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t); return t.tv_sec * 1e9 + t.tv_nsec; }

int main(void) {
	Plate p;
	for (int i = 0; i < 3; i++) upright(&p.leg[i], 60 + 120 * i, 180, 22, 16, 55, 60);
	p.sg = sin(rad(180)); p.cg = cos(rad(180));
	double q[3] = {rad(20), rad(-10), rad(5)}, x[3] = {60, 0, 0};
	int n = pose(&p, q, x);
	double m = hypot(x[1], x[2]), t = atan2(m, sqrt(1 - m * m));
	printf("arms 20, -10, 5 degrees: height %.15g mm, lean right %.15g, forward %.15g degrees, %d steps\n", x[0], x[1] / m * t * 180 / M_PI, x[2] / m * t * 180 / M_PI, n);
	const long N = 1000000;
	double best = INFINITY, sum = 0, steps = 0;
	for (int rep = 0; rep < 7; rep++) {
		double t0 = now();
		steps = 0;
		for (long i = 0; i < N; i++) {
			double a = rad(30.0 * ((i * 7919) % 2001 - 1000) / 1000), b = rad(12.0 * ((i * 104729) % 2001 - 1000) / 1000), c = rad(12.0 * ((i * 1299709) % 2001 - 1000) / 1000);
			double qq[3] = {a + b, a - 0.5 * b + c, a - 0.5 * b - c}, xx[3] = {60, 0, 0};
			steps += pose(&p, qq, xx);
			sum += xx[0];
		}
		double ns = (now() - t0) / N;
		if (ns < best) best = ns;
	}
	printf("from cold: %.0f ns a pose, %.2f steps (sum %.6f)\n", best, steps / N, sum);
	return 0;
}
