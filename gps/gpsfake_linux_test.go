package gps

import (
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The real gpsd, fed by its own test feeder with an invented recording.
func TestRealGpsd(t *testing.T) {
	t.Parallel()
	for _, program := range []string{"gpsd", "gpsfake"} {
		if _, err := exec.LookPath(program); err != nil {
			if os.Getenv("CI") != "" {
				t.Fatalf("%s: %v (Debian: gpsd, gpsd-clients)", program, err)
			}
			t.Skipf("%s is not installed", program)
		}
	}
	var log strings.Builder
	begin := time.Now().Add(-time.Minute)
	for i := range 60 {
		log.WriteString(second(begin.Add(time.Duration(i) * time.Second)))
		log.WriteString(summed("GPGSA,A,3,22,19,18,27,14,03,09,11,,,,,1.9,1.1,1.6") + "\r\n")
	}
	path := filepath.Join(t.TempDir(), "outing.nmea")
	if err := os.WriteFile(path, []byte(log.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	address := "127.0.0.1:" + freePort(t)
	r := openGpsd(t, path, address)
	got := await(t, r, 10*time.Second, "fix with height", func(r Report) bool { return r.State == Fixed && r.Fix.AltitudeKnown })
	// 57 degrees 16.2 to 16.3 minutes, 40 m above the sea, geoid 55 m.
	if f := got.Fix; f.LatitudeDeg < 57.27 || f.LatitudeDeg > 57.272 || f.LongitudeDeg != -5.71 || f.AltitudeM != 95 || f.Quality != "gps" {
		t.Errorf("fix %+v, want 57.27 -5.71, 95 m", f)
	}
}

// freePort finds a TCP port that nobody has now.
func freePort(t *testing.T) string {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	return fmt.Sprint(listener.Addr().(*net.TCPAddr).Port)
}

// openGpsd starts gpsfake and opens its gpsd as soon as that listens.
func openGpsd(t *testing.T, log, address string) *Receiver {
	t.Helper()
	_, port, _ := net.SplitHostPort(address)
	cmd := exec.Command("gpsfake", "-q", "-c", "0.1", "-P", port, log)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // gpsd is its child
	var said strings.Builder
	cmd.Stdout, cmd.Stderr = &said, &said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan struct{})
	go func() { cmd.Wait(); close(ended) }()
	t.Cleanup(func() {
		syscall.Kill(-cmd.Process.Pid, syscall.SIGTERM)
		select {
		case <-ended:
		case <-time.After(3 * time.Second):
			syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
			<-ended
		}
		if t.Failed() {
			t.Logf("gpsfake said: %s", said.String())
		}
	})
	for begun := time.Now(); time.Since(begun) < 10*time.Second; time.Sleep(100 * time.Millisecond) {
		if r, err := Open(t.Context(), "gpsd://"+address, Options{}); err == nil {
			t.Cleanup(func() { r.Close() })
			return r
		}
	}
	t.Fatal("gpsd doesn't listen")
	return nil
}
