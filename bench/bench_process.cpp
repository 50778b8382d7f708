// The whole tool: wall time and peak memory of one `leastwise blend` run, process start included.
#include <benchmark/benchmark.h>
#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "support/generator.hpp"
#include "yaml_text.hpp"

extern char** environ;

using namespace leastwise;

namespace {

struct Run {
  int exit_code = -1;
  long peak_kib = 0;
};

/// Runs the tool on a file, its report thrown away.
Run run_tool(const std::string& file) {
  std::string tool = LEASTWISE_TOOL, verb = "blend", path = file;
  char* arguments[] = {tool.data(), verb.data(), path.data(), nullptr};
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
  pid_t child = 0;
  Run run;
  if (posix_spawn(&child, tool.c_str(), &actions, nullptr, arguments, environ) == 0) {
    int status = 0;
    rusage usage{};
    wait4(child, &status, 0, &usage);
    run = {WIFEXITED(status) ? WEXITSTATUS(status) : -1, usage.ru_maxrss};
  }
  posix_spawn_file_actions_destroy(&actions);
  return run;
}

void blend_file(benchmark::State& state) {
  const auto materials = static_cast<int>(state.range(0));
  const auto file = std::filesystem::temp_directory_path() /
                    ("leastwise-bench-" + std::to_string(materials) + ".yaml");
  std::ofstream(file) << bench::scenario_text(support::random_draft(
      7, {.materials = materials, .basis = Basis::per_hectare, .sabotage = 0, .frills = false}));
  Run run;
  for (auto _ : state) {
    run = run_tool(file.string());
    if (run.exit_code != 0 && run.exit_code != 2) state.SkipWithError("the tool failed");
  }
  state.counters["peak_MiB"] = static_cast<double>(run.peak_kib) / 1024;
  state.counters["exit_code"] = run.exit_code;
  std::filesystem::remove(file);
}

BENCHMARK(blend_file)
    ->ArgName("materials")
    ->Arg(25)
    ->Arg(150)
    ->Arg(400)
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
