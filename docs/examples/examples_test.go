// Package examples holds what other engines run; the tests run it here.
package examples

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	batch "k8s.io/api/batch/v1"
	core "k8s.io/api/core/v1"
	"sigs.k8s.io/yaml"
)

// tool is rollchange, built once.
var tool string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "rollchange-*")
	if err != nil {
		panic(err)
	}
	tool = filepath.Join(dir, "rollchange")
	if out, err := exec.Command("go", "build", "-C", "../..", "-o", tool, "./cmd/rollchange").CombinedOutput(); err != nil {
		panic(string(out))
	}
	os.Setenv("ROLLCHANGE_CACHE", filepath.Join(dir, "cache")) // not what the user has kept
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// folder is a shared folder as the examples want it: line.toml, on a short horizon.
func folder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	text, err := os.ReadFile("../../scenarios/label_press.toml")
	require.NoError(t, err)
	short := strings.NewReplacer(`horizon = "15 d"`, `horizon = "1 d"`, "replications = 20", "replications = 3").Replace(string(text))
	require.NotEqual(t, string(text), short)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "line.toml"), []byte(short), 0o644))
	return dir
}

// run runs a program in a folder, with rollchange on the path, and returns its
// standard output and exit status.
func run(t *testing.T, dir string, env []string, name string, args ...string) (string, int) {
	t.Helper()
	c := exec.Command(name, args...)
	var out, errs strings.Builder
	c.Dir, c.Stdout, c.Stderr = dir, &out, &errs
	c.Env = append(append(os.Environ(), "PATH="+filepath.Dir(tool)+string(os.PathListSeparator)+os.Getenv("PATH")), env...)
	err := c.Run()
	if err != nil && c.ProcessState == nil {
		t.Fatal(err)
	}
	if c.ProcessState.ExitCode() != 0 {
		t.Log(errs.String())
	}
	return out.String(), c.ProcessState.ExitCode()
}

// asTheWhole merges the parts in results/ and wants the bytes of the sweep in one piece.
func asTheWhole(t *testing.T, dir string, parts int) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "results", "*"))
	require.NoError(t, err)
	require.Len(t, files, parts, "a file for each part, and no journal is left")
	args := []string{"line.toml", "--json", "--vary", "line.speed=90 m/min..150 m/min/7", "--vary", "unwind.storage.run_level=60 %..100 %/5"}
	whole, code := run(t, dir, nil, tool, append([]string{"sweep"}, args...)...)
	require.Zero(t, code)
	merged, code := run(t, dir, nil, tool, append([]string{"merge"}, files...)...)
	require.Zero(t, code)
	assert.Equal(t, whole, merged)
}

// interrupt leaves of a finished part what a task leaves that was killed: a
// journal that ends within a line.
func interrupt(t *testing.T, dir string, n int) {
	t.Helper()
	part := filepath.Join(dir, "results", "part-"+strconv.Itoa(n))
	text, err := os.ReadFile(part + ".jsonl")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(part+".journal", text[:len(text)/2], 0o644))
	require.NoError(t, os.Remove(part+".jsonl"))
}

func TestTheArrayScriptMakesTheWhole(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no bash here")
	}
	text, err := os.ReadFile("array.sbatch")
	require.NoError(t, err)
	dir := folder(t)
	script := filepath.Join(dir, "array.sbatch")
	require.NoError(t, os.WriteFile(script, text, 0o755))
	lines := strings.Split(string(text), "\n")
	assert.Equal(t, "#!/bin/bash", lines[0])
	array := regexp.MustCompile(`(?m)^#SBATCH --array=1-(\d+)$`).FindSubmatch(text)
	parts := regexp.MustCompile(`(?m)^parts=(\d+)\b`).FindSubmatch(text)
	require.NotNil(t, array)
	require.NotNil(t, parts)
	assert.Equal(t, string(array[1]), string(parts[1]), "as many parts as tasks")
	// Slurm reads its options up to the first line that is a command.
	command := strings.Index(string(text), "\nset -eu")
	assert.NotContains(t, string(text[command:]), "#SBATCH")
	n, err := strconv.Atoi(string(parts[1]))
	require.NoError(t, err)
	task := func(k int) {
		_, code := run(t, dir, []string{"SLURM_ARRAY_TASK_ID=" + strconv.Itoa(k), "SLURM_CPUS_PER_TASK=1"}, bash, script)
		require.Zero(t, code, "task %d", k)
	}
	for k := n; k >= 1; k-- {
		task(k)
	}
	asTheWhole(t, dir, n)
	interrupt(t, dir, 3)
	task(3)
	task(4) // again: it is done
	asTheWhole(t, dir, n)
	_, code := run(t, dir, nil, bash, script)
	assert.NotZero(t, code, "without an index")
}

// manifest is job.yaml, checked against the Go types of the Kubernetes API: a
// field that is unknown, doubled or of another type is an error.
func manifest(t *testing.T) batch.Job {
	t.Helper()
	text, err := os.ReadFile("job.yaml")
	require.NoError(t, err)
	var job batch.Job
	require.NoError(t, yaml.UnmarshalStrict(text, &job))
	return job
}

// The rules that the API server adds to the types, as the reference of Job v1
// batch and of pods states them.
func TestTheManifestIsAnIndexedJob(t *testing.T) {
	job := manifest(t)
	assert.Equal(t, "batch/v1", job.APIVersion)
	assert.Equal(t, "Job", job.Kind)
	assert.Regexp(t, `^[a-z0-9]([-a-z0-9]*[a-z0-9])?$`, job.Name)
	spec := job.Spec
	require.NotNil(t, spec.CompletionMode)
	assert.Equal(t, batch.IndexedCompletion, *spec.CompletionMode)
	require.NotNil(t, spec.Completions, "an Indexed Job needs completions")
	assert.LessOrEqual(t, *spec.Parallelism, *spec.Completions)
	pod := spec.Template.Spec
	assert.Equal(t, core.RestartPolicyNever, pod.RestartPolicy, "backoffLimitPerIndex and podFailurePolicy ask for Never")
	require.Len(t, pod.Containers, 1)
	c := pod.Containers[0]
	assert.Regexp(t, `^[a-z0-9./:-]+$`, c.Image)
	assert.Equal(t, []core.EnvVar{{Name: "PARTS", Value: strconv.Itoa(int(*spec.Completions))}}, c.Env, "as many parts as completions")
	for _, rule := range spec.PodFailurePolicy.Rules {
		if rule.OnExitCodes != nil {
			assert.Equal(t, c.Name, *rule.OnExitCodes.ContainerName)
			assert.NotContains(t, rule.OnExitCodes.Values, int32(0), "an exit status of 0 is no failure")
		}
	}
	require.Len(t, c.VolumeMounts, 1)
	require.Len(t, pod.Volumes, 1)
	assert.Equal(t, pod.Volumes[0].Name, c.VolumeMounts[0].Name)
	assert.Equal(t, c.WorkingDir, c.VolumeMounts[0].MountPath)
	assert.True(t, c.Resources.Limits.Memory().Cmp(*c.Resources.Requests.Memory()) >= 0)
	var other batch.Job
	assert.Error(t, yaml.UnmarshalStrict([]byte("kind: Job\nspec: {completion: 7}"), &other), "the check finds a field that is not there")
}

func TestTheJobMakesTheWhole(t *testing.T) {
	if _, err := exec.LookPath("sh"); err != nil {
		t.Skip("no sh here")
	}
	job := manifest(t)
	dir := folder(t)
	c := job.Spec.Template.Spec.Containers[0]
	words := append(append([]string{}, c.Command...), c.Args...)
	n := int(*job.Spec.Completions)
	pod := func(index int) int {
		_, code := run(t, dir, []string{c.Env[0].Name + "=" + c.Env[0].Value, "JOB_COMPLETION_INDEX=" + strconv.Itoa(index)}, words[0], words[1:]...)
		return code
	}
	for index := range n {
		require.Zero(t, pod(index), "index %d", index)
	}
	asTheWhole(t, dir, n)
	interrupt(t, dir, 6)
	require.Zero(t, pod(5))
	require.Zero(t, pod(5), "again: it is done")
	asTheWhole(t, dir, n)
	assert.Equal(t, 2, pod(n), "an index too many is bad use, which the manifest does not try again")
}

// A process that is killed between two points leaves a journal, from which the
// same command goes on.
func TestAKilledSweepGoesOn(t *testing.T) {
	dir := folder(t)
	args := []string{"sweep", "line.toml", "--json", "--vary", "line.speed=90 m/min..150 m/min/20", "--horizon", "10 d", "--workers", "1"}
	whole, code := run(t, dir, nil, tool, args...)
	require.Zero(t, code)
	args = append(args, "--resume", "journal", "-o", "result")
	c := exec.Command(tool, args...)
	c.Dir = dir
	require.NoError(t, c.Start())
	for start := time.Now(); time.Since(start) < 30*time.Second; time.Sleep(time.Millisecond) {
		if text, _ := os.ReadFile(filepath.Join(dir, "journal")); strings.Count(string(text), "\n") > 2 {
			break
		}
	}
	require.NoError(t, c.Process.Kill())
	_ = c.Wait()
	require.FileExists(t, filepath.Join(dir, "journal"))
	require.NoFileExists(t, filepath.Join(dir, "result"))
	_, code = run(t, dir, nil, tool, args...)
	require.Zero(t, code)
	result, err := os.ReadFile(filepath.Join(dir, "result"))
	require.NoError(t, err)
	assert.Equal(t, whole, string(result))
	assert.NoFileExists(t, filepath.Join(dir, "journal"))
}

// A disk that is full, here a limit on the size of files, is one clear error and
// leaves no half of a part.
func TestAFullDiskLeavesNoHalfOfAPart(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no bash here")
	}
	dir := folder(t)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "part"), []byte("what stood there"), 0o644))
	out, code := run(t, dir, nil, bash, "-c", `ulimit -f 4; rollchange run line.toml --part 1/1 -o part 2>&1 >/dev/null | grep -v ^caution; exit ${PIPESTATUS[0]}`)
	assert.Equal(t, 2, code, out)
	assert.Contains(t, out, "rollchange: part: cannot be written: ")
	text, err := os.ReadFile(filepath.Join(dir, "part"))
	require.NoError(t, err)
	assert.Equal(t, "what stood there", string(text))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2, "nothing is left behind")
}
