// Package chromium starts a headless browser for the tests that look at pages.
package chromium

import (
	"context"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"rollchange/sim/effort"
)

// full says that nothing may be skipped: .ci/run sets it.
const full = "ROLLCHANGE_FULL"

// Needed skips the short form of a test, and any where there is no browser; where every
// test is asked for it fails instead.
func Needed(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes a while")
	}
	if found() != "" {
		return
	}
	if os.Getenv(full) == "1" {
		t.Fatal("no Chromium is installed, and " + full + "=1 asks for every test")
	}
	t.Skip("no Chromium is installed: the page is not looked at in a browser")
}

// found is where the browser is; empty: there is none.
func found() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// Start starts a browser that keeps what it has in a folder and lives so long at most. Each
// chromedp.NewContext of its context is a tab. The function that it returns ends it, also
// after an error.
func Start(folder string, most time.Duration) (context.Context, func(), error) {
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(found()), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(folder),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-background-networking", true))
	if !effort.Long() { // what a short run gains by compiling an engine twice is less than that takes
		options = append(options, chromedp.Flag("js-flags", "--no-wasm-tier-up"))
	}
	ctx, leave := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, late := context.WithTimeout(ctx, most)
	ctx, quit := chromedp.NewContext(ctx)
	end := func() {
		quit()
		late()
		leave()
	}
	return ctx, end, chromedp.Do(ctx)
}
