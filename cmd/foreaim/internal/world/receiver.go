package world

import (
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"time"
)

// Receiver is the invented GPS receiver: once a true second it sends where it
// is and what time it was at that second, a third of a second late and not
// evenly, as real ones do.
type Receiver struct {
	World *World
	// Truth reads the true time; Speed is how many of its seconds pass in a
	// real one.
	Truth func() time.Time
	Speed float64
}

// delay is between the second and the first byte that tells of it.
const (
	delay  = 350 * time.Millisecond
	jitter = 200 * time.Millisecond
)

// Feed writes sentences until ctx ends or the line is closed.
func (r Receiver) Feed(ctx context.Context, line io.Writer) error {
	random := rand.New(rand.NewPCG(1, 2))
	second := r.Truth().Truncate(time.Second)
	for {
		second = second.Add(time.Second)
		send := second.Add(delay + time.Duration(random.Float64()*float64(jitter)))
		wait := time.NewTimer(time.Duration(float64(send.Sub(r.Truth())) / r.Speed))
		select {
		case <-ctx.Done():
			wait.Stop()
			return nil
		case <-wait.C:
		}
		if _, err := io.WriteString(line, r.Sentences(second, random)); err != nil {
			return err
		}
	}
}

// Sentences returns RMC, GGA and GSA for one true second, the position a few
// metres off.
func (r Receiver) Sentences(second time.Time, random *rand.Rand) string {
	site := r.World.Site
	north, east := random.NormFloat64()*2, random.NormFloat64()*2
	lat := site.LatitudeDeg + north/111200
	lon := site.LongitudeDeg + east/(111200*math.Cos(site.LatitudeDeg*rad))
	t := second.UTC()
	where := fmt.Sprintf("%s,%s,%s,%s", minutes(lat, 2), hemisphere(lat, "N", "S"), minutes(lon, 3), hemisphere(lon, "E", "W"))
	clock := t.Format("150405.00")
	return sentence(fmt.Sprintf("GNRMC,%s,A,%s,0.02,,%s,,,A", clock, where, t.Format("020106"))) +
		sentence(fmt.Sprintf("GNGGA,%s,%s,1,11,0.9,%.1f,M,%.1f,M,,", clock, where, site.HeightM-r.World.GeoidM, r.World.GeoidM)) +
		sentence("GNGSA,A,3,02,05,07,13,15,18,20,24,28,29,30,,1.6,0.9,1.3")
}

// minutes writes an angle as NMEA 0183 does: degrees and minutes run together.
func minutes(deg float64, digits int) string {
	units := int64(math.Round(math.Abs(deg) * 60 * 1e5)) // of 1e-5 minute
	return fmt.Sprintf("%0*d%02d.%05d", digits, units/(60*1e5), units/1e5%60, units%1e5)
}

func hemisphere(deg float64, positive, negative string) string {
	if deg < 0 {
		return negative
	}
	return positive
}

// sentence adds the frame and the checksum of NMEA 0183.
func sentence(body string) string {
	sum := byte(0)
	for i := range len(body) {
		sum ^= body[i]
	}
	return fmt.Sprintf("$%s*%02X\r\n", body, sum)
}
