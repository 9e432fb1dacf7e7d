"""A judge of "foreaim advise" that knows nothing of the program but its answers.

It invents satellites, operators and passes, plays each pass twice, once pointing
where the satellite is predicted (lead) and once where the program says (learn),
and tells how many bursts each way heard. Geometry, antenna and ear are written
here from textbooks:

- orbit: a circle that the Earth's oblateness turns (secular terms of J2) and
  its pear shape shifts (the long-periodic term of J3), to first order, after
  Brouwer, Astron. J. 64, 378 (1959); constants of WGS-72, as two-line elements
  are made for;
- Greenwich mean sidereal time: Aoki et al., Astron. Astrophys. 105, 359 (1982);
- site on the WGS-84 ellipsoid;
- pattern 12 (angle / beamwidth)^2 dB, at most 20 dB; heard with probability
  1 / (1 + exp(-margin / 1 dB)).

usage: judge.py FOREAIM PASSES SEED; the result is one JSON object.
"""

import json
import math
import os
import random
import subprocess
import sys
import tempfile
from datetime import datetime, timedelta, timezone

MU = 398600.8  # km^3/s^2
EARTH = 6378.135  # km
J2, J3 = 0.001082616, -0.00000253881
PERIOD = 30.0  # s from burst to burst
TIME_SIGMA, HEADING_SIGMA, MARGIN, BEAMWIDTH, HAND, FADING = 120.0, 20.0, 6.0, 50.0, 8.0, 5.0
START = datetime(2026, 11, 25, tzinfo=timezone.utc)


class Orbit:
    """A circular orbit; epoch START."""

    def __init__(self, rng):
        self.inclination = math.radians(rng.uniform(60, 98))
        self.node = rng.uniform(0, 2 * math.pi)
        self.argument = rng.uniform(0, 2 * math.pi)  # of latitude
        self.rev_per_day = rng.uniform(14.9, 15.3)

    def lines(self, name, number):
        """Three-line elements."""
        day = START.timetuple().tm_yday
        one = "1 %05dU 26199A   26%03d.00000000  .00000000  00000-0  00000-0 0  999" % (number, day)
        two = "2 %05d %8.4f %8.4f 0000001   0.0000 %8.4f %11.8f    1" % (
            number, math.degrees(self.inclination), math.degrees(self.node),
            math.degrees(self.argument), self.rev_per_day)
        return "\n".join([name, one + checksum(one), two + checksum(two), ""])

    def position(self, seconds):
        """Inertial position in km, seconds after the epoch."""
        n = self.rev_per_day * 2 * math.pi / 86400
        a = (MU / n**2) ** (1 / 3)
        c = math.cos(self.inclination)
        turn = 1.5 * J2 * (EARTH / a) ** 2
        a *= 1 - turn / 3 * (3 * c * c - 1)  # the mean motion has the turning in it
        node = self.node - turn * n * c * seconds
        u = self.argument + n * (1 + turn * (2.5 * c * c - 0.5)) * seconds
        shift = -J3 / J2 / 2 * EARTH / a * math.sin(self.inclination)  # e sin(perigee)
        u, a = u - 2 * shift * math.cos(u), a * (1 - shift * math.sin(u))
        x, y = a * math.cos(u), a * math.sin(u)
        return (x * math.cos(node) - y * c * math.sin(node),
                x * math.sin(node) + y * c * math.cos(node),
                y * math.sin(self.inclination))


def checksum(line):
    return str(sum(int(ch) if ch.isdigit() else ch == "-" for ch in line) % 10)


def sidereal(seconds):
    """Greenwich mean sidereal time in radians, seconds after START."""
    days = (START - datetime(2000, 1, 1, 12, tzinfo=timezone.utc)).total_seconds() / 86400 + seconds / 86400
    t = days / 36525
    s = 67310.54841 + (876600 * 3600 + 8640184.812866) * t + 0.093104 * t * t
    return s % 86400 / 86400 * 2 * math.pi


class Site:
    def __init__(self, latitude, longitude):
        self.latitude, self.longitude = math.radians(latitude), math.radians(longitude)
        a, f = 6378.137, 1 / 298.257223563
        e2 = f * (2 - f)
        n = a / math.sqrt(1 - e2 * math.sin(self.latitude) ** 2)
        self.out, self.up = n * math.cos(self.latitude), n * (1 - e2) * math.sin(self.latitude)

    def look(self, orbit, seconds, late):
        """Unit vector east, north, up and range in km: the orbit as it was late
        seconds before, the Earth at the time."""
        x, y, z = orbit.position(seconds - late)
        turned = sidereal(seconds) + self.longitude
        x, y = x * math.cos(turned) + y * math.sin(turned), -x * math.sin(turned) + y * math.cos(turned)
        x, z = x - self.out, z - self.up
        sin, cos = math.sin(self.latitude), math.cos(self.latitude)
        east, north, up = y, cos * z - sin * x, cos * x + sin * z
        distance = math.sqrt(east**2 + north**2 + up**2)
        return (east / distance, north / distance, up / distance), distance


def unit(azimuth, elevation):
    a, e = math.radians(azimuth), math.radians(elevation)
    return math.sin(a) * math.cos(e), math.cos(a) * math.cos(e), math.sin(e)


def angles(v):
    return math.degrees(math.atan2(v[0], v[1])) % 360, math.degrees(math.asin(max(-1, min(1, v[2]))))


def between(a, b):
    return math.degrees(math.acos(max(-1, min(1, sum(p * q for p, q in zip(a, b))))))


def stamp(seconds):
    at = START + timedelta(seconds=round(seconds, 3))
    return at.strftime("%Y-%m-%dT%H:%M:%S.") + "%03dZ" % (at.microsecond // 1000)


def seconds_of(text):
    return (datetime.fromisoformat(text.replace("Z", "+00:00")) - START).total_seconds()


class Pass:
    """A pass as it really is, with the luck of each burst drawn before."""

    def __init__(self, rng):
        predicted = None
        while not predicted:
            self.orbit = Orbit(rng)
            self.place = (rng.uniform(-55, 60), rng.uniform(0, 40))
            self.site = Site(*self.place)
            predicted = self.find()
        self.rise, self.set = predicted
        self.late, self.heading = rng.gauss(0, TIME_SIGMA), rng.gauss(0, HEADING_SIGMA)
        self.first = self.rise + rng.uniform(0, PERIOD)
        self.first = round(self.first, 3)
        self.luck = {}
        spare = 5 * TIME_SIGMA
        for k in range(int(-spare // PERIOD), int((self.set - self.rise + spare) // PERIOD) + 2):
            self.luck[k] = (rng.gauss(0, HAND), rng.gauss(0, HAND), rng.gauss(0, FADING), rng.random(), rng.gauss(0.6, 0.3))

    def find(self):
        """Rise and set of the first predicted pass that peaks above 20 degrees,
        if there is one within two days."""
        rise, peak, before = None, -1, 1
        for t in range(6 * 3600, 48 * 3600, 5):
            up = self.site.look(self.orbit, t, 0)[0][2]
            if up > 0 and before <= 0:
                rise, peak = t, 0
            if rise is not None:
                peak = max(peak, up)
                if up <= 0:
                    if peak > math.sin(math.radians(20)):
                        return rise, t
                    rise = None
            before = up
        return None

    def burst(self, k):
        return self.first + k * PERIOD

    def up(self, k):
        return self.site.look(self.orbit, self.burst(k), self.late)[0][2] > 0

    def heard(self, k, azimuth, elevation):
        """Whether burst k is heard by somebody who believes to hold so."""
        truth, distance = self.site.look(self.orbit, self.burst(k), self.late)
        if truth[2] <= 0:
            return False
        across, up, fading, luck, _ = self.luck[k]
        # The hand moves the boom along two arcs that cross at where it is held.
        held = unit(azimuth + self.heading, elevation)
        a, e = math.radians(azimuth + self.heading), math.radians(elevation)
        right = (math.cos(a), -math.sin(a), 0)
        above = (-math.sin(a) * math.sin(e), -math.cos(a) * math.sin(e), math.cos(e))
        x, y = math.radians(across), math.radians(up)
        boom = tuple(h + x * r + y * b for h, r, b in zip(held, right, above))
        length = math.sqrt(sum(v * v for v in boom))
        off = between(tuple(v / length for v in boom), truth)
        margin = MARGIN + fading - min(20, 12 * (off / BEAMWIDTH) ** 2) - 20 * math.log10(distance / 1000)
        return luck < 1 / (1 + math.exp(-max(-500, min(500, margin))))

    def lead(self):
        """How many bursts are heard by pointing where it is predicted."""
        count = 0
        for k in self.luck:
            azimuth, elevation = angles(self.site.look(self.orbit, self.burst(k), 0)[0])
            count += self.heard(k, azimuth, max(0, elevation))
        return count

    def ask(self, foreaim, folder, *more):
        path = os.path.join(folder, "satellite.tle")
        with open(path, "w") as f:
            f.write(self.orbit.lines("INVENTED", 99901))
        return subprocess.Popen(
            [foreaim, "advise", "INVENTED", "--elements", path, "--site", "%.6f,%.6f" % self.place,
             "--from", stamp(self.rise - 60), "--period", "%gs" % PERIOD, "--first", stamp(self.first),
             "--margin", "%g" % MARGIN, "--beamwidth", "%g" % BEAMWIDTH, "--fading", "%g" % FADING, *more],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def learn(self, foreaim, folder, told):
        """How many bursts are heard by doing as the program says."""
        with self.ask(foreaim, folder, "--time-error", "%gs" % TIME_SIGMA, "--heading-error", "%g" % HEADING_SIGMA,
                      "--aim-error", "%g" % HAND) as program:
            count, last = 0, -math.inf
            while True:
                answer = json.loads(program.stdout.readline())
                following = answer["next"]
                if following is None:
                    break
                at = seconds_of(following["time"])
                k = round((at - self.first) / PERIOD)
                if abs(at - self.burst(k)) > 0.01 or at <= last:
                    raise SystemExit("burst %d at %s, after one at %s" % (k, following["time"], stamp(last)))
                last = at
                heard = k in self.luck and self.heard(k, following["azimuth_deg"], following["elevation_deg"])
                count += heard
                told.append((answer["hear_probability"], heard, self.up(k),
                             (self.late - answer["time_error_s"]) / answer["time_error_sigma_s"],
                             (self.heading - answer["heading_error_deg"]) / answer["heading_error_sigma_deg"]))
                mark = {"time": stamp(at + (self.luck[k][4] if heard else 2)), "kind": "heard" if heard else "silent"}
                program.stdin.write(json.dumps(mark) + "\n")
                program.stdin.flush()
            program.stdin.close()
            rest = program.stdout.read()
        if program.returncode != 0 or rest:
            raise SystemExit("exit status %s, and more answers: %r" % (program.returncode, rest))
        return count

    def agreement(self, foreaim, folder):
        """How many degrees the program's prediction is off ours at most: with
        nothing to learn its advice is where the satellite is predicted."""
        worst = 0
        with self.ask(foreaim, folder, "--time-error", "0s", "--heading-error", "0", "--aim-error", "0") as program:
            while True:
                following = json.loads(program.stdout.readline())["next"]
                if following is None:
                    break
                at = seconds_of(following["time"])
                ours = self.site.look(self.orbit, at, 0)[0]
                if ours[2] > 0.05:
                    worst = max(worst, between(ours, unit(following["azimuth_deg"], following["elevation_deg"])))
                program.stdin.write(json.dumps({"time": stamp(at + 2), "kind": "not_listening"}) + "\n")
                program.stdin.flush()
            program.stdin.close()
        return worst


def main():
    foreaim, passes, seed = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    rng = random.Random(seed)
    lead, learn, worst, told = [], [], 0, []
    with tempfile.TemporaryDirectory() as folder:
        for n in range(passes):
            p = Pass(rng)
            bursts = sum(p.up(k) for k in p.luck)
            if bursts == 0:
                continue
            if n < 3:
                worst = max(worst, p.agreement(foreaim, folder))
            lead.append(p.lead() / bursts)
            learn.append(p.learn(foreaim, folder, told) / bursts)
    up = [t for t in told if t[2]]
    middle = [t for t in told if 0.7 <= t[0] < 0.8]
    print(json.dumps({
        "passes": len(lead),
        "lead": sum(lead) / len(lead), "learn": sum(learn) / len(learn),
        "worst_agreement_deg": worst,
        "answers": len(told),
        "stated": sum(t[0] for t in told), "heard": sum(t[1] for t in told),
        "stated_variance": sum(t[0] * (1 - t[0]) for t in told),
        "of_70_to_80": len(middle), "came_true": sum(t[1] for t in middle),
        "time_within_sigma": sum(abs(t[3]) < 1 for t in up) / len(up),
        "heading_within_sigma": sum(abs(t[4]) < 1 for t in up) / len(up),
        "out_of_range": sum(not 0 <= t[0] <= 1 for t in told),
    }))


main()
