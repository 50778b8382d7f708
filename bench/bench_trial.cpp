// How long a trial of 200 treatments on 6 sites takes, treatments held equal, with its sheets.
// Write the file with --write FILE to time the tool on it.
#include <leastwise/trial_load.hpp>
#include <leastwise/trial_plan.hpp>
#include <leastwise/trial_report.hpp>

#include <chrono>
#include <cstdio>
#include <fstream>
#include <string>

using namespace leastwise;
using Clock = std::chrono::steady_clock;

namespace {

/// 10 x 5 x 4 levels of N, K2O and Zn; `sites` sites of 6 blocks each.
std::string trial_text(int sites) {
  std::string text = R"(leastwise: 1
trial: Rates of N, K2O and Zn
code: BT
seed: 11
base:
  currency: USD
  materials:
    urea: {price_per_t: 450}
    map: {price_per_t: 690}
    mop: {price_per_t: 400}
    sop: {price_per_t: 780}
    ammonium-sulfate: {price_per_t: 260}
    zinc-oxide: {price_per_t: 3200}
  rates_kg_per_ha: {P2O5: {exactly: 40}}
  blend:
    coating_percent: {max: 3}
    binder: {material: canola-oil, percent_of_powder: 37.5, price_per_t: 1250}
factorial:
  N: [40, 50, 60, 70, 80, 90, 100, 110, 120, 130]
  K2O: [20, 40, 60, 80, 100]
  Zn: [0.5, 1, 1.5, 2]
hold: [P2O5, S]
sites:
)";
  for (int s = 1; s <= sites; ++s)
    text +=
        "  Site " + std::to_string(s) + ": {replicates: 6, plot_length_m: 10, plot_width_m: 3}\n";
  return text + R"(equipment:
  mixers: {drum: {kind: drum, capacity_kg: 60}}
  balances:
    pocket: {capacity_kg: 0.5, readability_g: 0.01}
    bench: {capacity_kg: 6, readability_g: 0.1}
    platform: {capacity_kg: 60, readability_g: 5}
)";
}

double milliseconds(Clock::time_point from) {
  return std::chrono::duration<double, std::milli>(Clock::now() - from).count();
}

}  // namespace

int main(int count, char** arguments) {
  constexpr int sites = 6;
  if (count == 3 && std::string(arguments[1]) == "--write") {
    std::ofstream(arguments[2]) << trial_text(sites);
    return 0;
  }
  const auto start = Clock::now();
  const Trial trial = parse_trial(trial_text(sites), "bench");
  const double read = milliseconds(start);
  const auto planning = Clock::now();
  const TrialPlan plan = plan_trial(trial, {.intervals = false});
  const double planned = milliseconds(planning);
  const auto writing = Clock::now();
  const std::string html = to_html(plan);
  const double written = milliseconds(writing);
  std::printf("%zu treatments, %zu plots: read %.0f ms, planned %.0f ms, HTML %.0f ms (%zu MB)\n",
              plan.totals.size(), plan.plots.size(), read, planned, written, html.size() / 1000000);
  std::printf("hold: %s, gap %.1e; every treatment has its product: %s\n",
              std::string(to_string(plan.hold->status)).c_str(), plan.hold->certificate.gap,
              plan.complete() ? "yes" : "no");
  return plan.complete() ? 0 : 1;
}
