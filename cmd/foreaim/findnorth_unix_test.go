//go:build unix

package main

import (
	"fmt"
	"math"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/north"
)

// underTheSun is where the sun stands in the zenith: the low-precision formulae
// of the Astronomical Almanac (page C24, from memory; good to 0.01° of the sun
// and 0.1 minutes of time), which the program doesn't use.
func underTheSun(t time.Time) (latitudeDeg, longitudeDeg float64) {
	const rad = math.Pi / 180
	n := t.Sub(time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)).Hours() / 24
	l, g := 280.460+0.9856474*n, (357.528+0.9856003*n)*rad
	ecliptic := (l + 1.915*math.Sin(g) + 0.020*math.Sin(2*g)) * rad
	tilt := (23.439 - 0.0000004*n) * rad
	ascension := math.Atan2(math.Cos(tilt)*math.Sin(ecliptic), math.Cos(ecliptic)) / rad
	declination := math.Asin(math.Sin(tilt)*math.Sin(ecliptic)) / rad
	sidereal := 280.46062 + 360.98564737*n
	return declination, track.TurnDeg(0, track.Wrap360(ascension-sidereal))
}

// aheadDeg is the true azimuth straight ahead.
const aheadDeg = 30

// lost is an operator who stands at a site with a mast 11 km due north of it and
// doesn't know where north is: what is straight ahead of them is at aheadDeg.
type lost struct {
	*terminal
	t     *testing.T
	state string
}

func newLost(t *testing.T, columns, rows int, site track.Site, args ...string) *lost {
	t.Helper()
	set, _ := shortPass(t, time.Now().Add(time.Hour), time.Minute)
	config := filepath.Join(t.TempDir(), "config.toml")
	text := fmt.Sprintf("[[landmark]]\nname = \"mast\"\nlatitude_deg = %.6f\nlongitude_deg = %.6f\n", site.LatitudeDeg+0.1, site.LongitudeDeg)
	if err := os.WriteFile(config, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	state := t.TempDir()
	args = append([]string{"--config", config, "--elements", writeElements(t, set), "--period", "30s", "--first", "2026-01-01T00:00:00Z"}, args...)
	return &lost{inTerminalWith(t, columns, rows, []string{"XDG_STATE_HOME=" + state, "XDG_DATA_HOME=" + state}, args...), t, state}
}

// choose goes up and down the list of ways to one. It presses a key only where the
// list goes on, so that each is answered, however slow the machine is.
func (l *lost) choose(way string) {
	l.t.Helper()
	chosen := func(screen string) (lines []string, at int) {
		lines = strings.Split(screen, "\n")
		return lines, slices.IndexFunc(lines, func(line string) bool { return strings.HasPrefix(line, " > ") })
	}
	key := "j"
	for range 40 {
		lines, at := chosen(l.await("\n > "))
		if strings.HasPrefix(lines[at], " > "+way) {
			return
		}
		listed := func(i int) bool {
			return strings.HasPrefix(lines[i], "   ") && !strings.HasPrefix(lines[i], "    ")
		}
		to := slices.IndexFunc(lines, func(line string) bool { return strings.HasPrefix(line, "   "+way) })
		switch {
		case to > at, !listed(at - 1):
			key = "j"
		case to >= 0, !listed(at + 1):
			key = "k"
		}
		l.press(key)
		l.awaitWhere("the way beside it", func(screen string) bool {
			now, i := chosen(screen)
			return i >= 0 && now[i] != lines[at]
		})
	}
	l.t.Fatalf("there is no way %q:\n%s", way, l.screen())
}

// claims checks what the screen says of straight ahead against the truth, and
// that it says so to within some degrees.
func (l *lost) claims(truthDeg, withinDeg float64) {
	l.t.Helper()
	screen := l.await("straight ahead is ")
	_, words, _ := strings.Cut(screen, "straight ahead is ")
	var deg, sigma float64
	if _, err := fmt.Sscanf(words, "%f° ±%f°", &deg, &sigma); err != nil || math.Abs(track.TurnDeg(truthDeg, deg)) > 2*sigma || sigma > withinDeg {
		l.t.Errorf("the truth is %g°, wanted to within %g°, %v:\n%s", truthDeg, withinDeg, err, screen)
	}
}

// done goes back to pointing, where the facing stands.
func (l *lost) done() {
	l.t.Helper()
	l.press("Escape")
	screen := l.awaitWhere("the pointing view", func(s string) bool { return !strings.Contains(s, "FIND NORTH") })
	if !strings.Contains(screen, "facing 0") {
		l.t.Errorf("no facing on the pointing view:\n%s", screen)
	}
	l.press("q")
	if status := l.ended(); status != "0" {
		l.t.Errorf("exit status %s", status)
	}
	logs, err := filepath.Glob(filepath.Join(l.state, "foreaim", "outings", "*"))
	if err != nil || len(logs) == 0 {
		l.t.Fatalf("no record: %v", err)
	}
	text, err := os.ReadFile(logs[0])
	if err != nil || !strings.Contains(string(text), `"references":[`) || !strings.Contains(string(text), `"sigma_deg":`) {
		l.t.Errorf("what the facing is made of isn't recorded, %v:\n%s", err, text)
	}
}

// By day: the sun's shadow falls due north, three fists left of ahead; the mast
// stands there, too.
func TestFindNorthByDay(t *testing.T) {
	t.Parallel()
	built(t)
	latitude, longitude := underTheSun(time.Now())
	site := track.Site{LatitudeDeg: latitude + 40, LongitudeDeg: longitude}
	l := newLost(t, 80, 24, site, "--site", fmt.Sprintf("%.5f,%.5f", site.LatitudeDeg, site.LongitudeDeg))
	l.await("(w: find north)")
	l.press("w")
	l.await("straight ahead may be anywhere")
	l.choose("sun's shadow")
	l.await("Never look at the sun")
	l.press("[", "Enter")
	l.await("take a second one of another kind")
	l.claims(aheadDeg, 3)
	l.choose("mast")
	l.press("[", "Enter")
	l.await("sure enough")
	l.claims(aheadDeg, 3)
	l.done()
}

// By night: the pole star stands to within a degree of north (here 50° up).
func TestFindNorthByNight(t *testing.T) {
	t.Parallel()
	built(t)
	_, longitude := underTheSun(time.Now())
	site := track.Site{LatitudeDeg: 50, LongitudeDeg: track.TurnDeg(0, track.Wrap360(longitude+180))}
	l := newLost(t, 53, 20, site, "--site", fmt.Sprintf("%.5f,%.5f", site.LatitudeDeg, site.LongitudeDeg))
	l.press("w")
	l.await("straight ahead may be anywhere")
	l.choose("pole star")
	l.press("[", "Enter")
	l.claims(aheadDeg, 3)
	l.done()
}

// In fog: the mast sends, and turning the antenna through its signal finds it two
// fists left of ahead on one side and four on the other; a compass agrees; and
// a walk with the receiver towards what is straight ahead settles it.
func TestFindNorthInFog(t *testing.T) {
	t.Parallel()
	built(t)
	site := track.Site{LatitudeDeg: -41.7, LongitudeDeg: 172.6, HeightM: 20}
	receiver := newWalker(t, site, 30)
	l := newLost(t, 80, 24, site, "--source", "tcp://"+receiver.address)
	l.await("fix 9")
	l.press("w")
	l.await("straight ahead may be anywhere", "mast")
	l.choose("mast")
	l.press("x")
	l.await("TURN LEFT")
	l.press("Left", "Left", "Left", "Left", "Left", "Left", "Left", "Left", "Enter") // four fists
	l.await("TURN RIGHT")
	l.press("Right", "Right", "Right", "Right", "Enter") // two
	l.await("FOUND", "30° left of ahead")
	l.press("x")
	l.claims(aheadDeg, 6)
	field, err := north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	l.choose("compass")
	l.press("Enter")
	l.await("Compass: _")
	l.press(fmt.Sprintf("%.0f", track.Wrap360(32-field.DeclinationDeg)), "Enter") // it is 2° out
	l.await("by mast, compass")
	l.choose("walk")
	l.press("Enter")
	l.await("straight on")
	receiver.walk()
	l.await("ENOUGH")
	l.press("Enter")
	l.await("by mast, compass, walk")
	l.claims(aheadDeg, 3)
	l.done()
}

// walker is a receiver that somebody walks away with.
type walker struct {
	address string
	off     chan struct{}
}

func (w *walker) walk() { close(w.off) }

// newWalker sends NMEA 0183 of a place at 5 Hz, and from walk on of a way from
// there at 10 m/s: nobody wants to wait in a test.
func newWalker(t *testing.T, site track.Site, bearingDeg float64) *walker {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { listener.Close() })
	w := &walker{listener.Addr().String(), make(chan struct{})}
	go func() {
		conn, err := listener.Accept()
		if err != nil {
			return // the test is over
		}
		defer conn.Close()
		gone := 0.0
		for {
			select {
			case <-w.off:
				gone += 2
			default:
			}
			sin, cos := math.Sincos(bearingDeg * math.Pi / 180)
			place := track.Site{
				LatitudeDeg:  site.LatitudeDeg + gone*cos/111070, // of a degree at 41.7°
				LongitudeDeg: site.LongitudeDeg + gone*sin/(111320*math.Cos(site.LatitudeDeg*math.Pi/180)),
			}
			if _, err := conn.Write(sentences(place, time.Now().UTC())); err != nil {
				return
			}
			time.Sleep(200 * time.Millisecond)
		}
	}()
	return w
}

// sentences are a GGA and an RMC.
func sentences(at track.Site, now time.Time) []byte {
	angle := func(deg float64, width int, sides string) string {
		whole, side := math.Floor(math.Abs(deg)), sides[:1]
		if deg < 0 {
			side = sides[1:]
		}
		return fmt.Sprintf("%0*d%08.5f,%s", width, int(whole), (math.Abs(deg)-whole)*60, side)
	}
	place := angle(at.LatitudeDeg, 2, "NS") + "," + angle(at.LongitudeDeg, 3, "EW")
	clock := now.Format("150405.00")
	var all []byte
	for _, body := range []string{
		"GPGGA," + clock + "," + place + ",1,09,1.0,20.0,M,12.0,M,,",
		"GPRMC," + clock + ",A," + place + ",0.0,," + now.Format("020106") + ",,,A",
	} {
		sum := byte(0)
		for i := range len(body) {
			sum ^= body[i]
		}
		all = fmt.Appendf(all, "$%s*%02X\r\n", body, sum)
	}
	return all
}
