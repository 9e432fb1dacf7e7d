package outing

import (
	"os"
	"testing"
)

// recordUntilKilled is the environment variable that makes the test binary a
// process that records until it is killed; its value is the file.
const recordUntilKilled = "FOREAIM_TEST_RECORD_UNTIL_KILLED"

func TestMain(m *testing.M) {
	if file := os.Getenv(recordUntilKilled); file != "" {
		os.Exit(recordForever(file))
	}
	os.Exit(m.Run())
}
