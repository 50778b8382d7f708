#include "trial/weighed_mixes.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

Diagnostic error(std::string_view code, std::string message, const Place& place) {
  Diagnostic diagnostic;
  diagnostic.code = std::string(code);
  diagnostic.message = std::move(message);
  diagnostic.place = place;
  return diagnostic;
}

using Lines = std::map<std::string, const Weighed*>;  ///< by material

/// Holds the lines of one step against it.
class StepReader {
 public:
  StepReader(const MixStep& step, WeighedMixes& found) : step_(step), found_(found) {}

  void take(const Weighed& line) {
    const auto known = std::ranges::find(step_.weighings, line.material, &MixWeighing::material);
    if (known == step_.weighings.end()) {
      Suggestion suggestion(line.material);
      for (const auto& weighing : step_.weighings) suggestion.offer(weighing.material);
      found_.diagnostics.push_back(error(codes::unknown_material,
                                         "expected a row of stock mix " + in_quotes(line.batch) +
                                             ", found " + in_quotes(line.material) +
                                             suggestion.question(),
                                         line.place));
    } else if (!lines_.emplace(line.material, &line).second) {
      found_.diagnostics.push_back(error(codes::weighed_twice,
                                         in_quotes(line.material) + " must be weighed once for " +
                                             in_quotes(line.batch) +
                                             ", found it again; add the parts up",
                                         line.place));
    }
  }

  [[nodiscard]] bool empty() const { return lines_.empty(); }

  /// The masses in the order of the step; says what is missing.
  std::vector<double> masses(const std::string& mix) {
    MixCheck check{step_.batch_code, mix, {}};
    std::vector<double> masses;
    for (const auto& weighing : step_.weighings) {
      const auto line = lines_.find(weighing.material);
      if (line == lines_.end()) {
        found_.diagnostics.push_back(error(codes::not_weighed,
                                           "stock mix " + in_quotes(step_.batch_code) +
                                               " must list " + in_quotes(weighing.material) +
                                               ", found nothing; write 0 if none went in",
                                           lines_.begin()->second->place));
        return {};
      }
      const Weighed& weighed = *line->second;
      const double planned_g = static_cast<double>(weighing.mass_mg) / mg_per_g;
      check.materials.push_back({weighing.material, weighing.mass_mg, weighed.mass_g,
                                 100 * (weighed.mass_g / planned_g - 1), weighed.lot,
                                 weighed.initials});
      masses.push_back(weighed.mass_g);
    }
    found_.checks.push_back(std::move(check));
    return masses;
  }

 private:
  const MixStep& step_;
  WeighedMixes& found_;
  Lines lines_{};
};

/// What a mix holds after its steps were weighed so.
void recompute(const std::vector<std::vector<double>>& steps, StockMix& mix) {
  std::vector<double> fractions(mix.parts.size(), 0);
  for (std::size_t s = 0; s < steps.size(); ++s) {
    double all = 0;
    for (const double g : steps[s]) all += g;
    if (all <= 0) return;
    std::vector<double> next(mix.parts.size(), 0);
    for (std::size_t w = 0; w < steps[s].size(); ++w) {
      const MixWeighing& weighing = mix.steps[s].weighings[w];
      const double share = steps[s][w] / all;
      if (weighing.earlier_mix) {
        for (std::size_t p = 0; p < next.size(); ++p) next[p] += share * fractions[p];
        continue;
      }
      const auto part = std::ranges::find(mix.parts, weighing.material, &MixPart::material);
      next[static_cast<std::size_t>(part - mix.parts.begin())] += share;
    }
    fractions = std::move(next);
  }
  for (std::size_t p = 0; p < fractions.size(); ++p) mix.parts[p].fraction = fractions[p];
}

}  // namespace

WeighedMixes weighed_mixes(const TrialPlan& plan, std::span<const Weighed> weighed) {
  WeighedMixes found;
  found.mixes = plan.mixes;
  std::vector<std::vector<StepReader>> readers;
  std::map<std::string, StepReader*> by_code;
  for (const auto& mix : plan.mixes) {
    readers.emplace_back();
    for (const auto& step : mix.steps) readers.back().emplace_back(step, found);
  }
  for (std::size_t m = 0; m < readers.size(); ++m)
    for (std::size_t s = 0; s < readers[m].size(); ++s)
      by_code.emplace(plan.mixes[m].steps[s].batch_code, &readers[m][s]);
  for (const auto& line : weighed) {
    const auto step = by_code.find(line.batch);
    if (step == by_code.end()) {
      found.rest.push_back(&line);
    } else {
      step->second->take(line);
    }
  }
  for (std::size_t m = 0; m < readers.size(); ++m) {
    std::vector<std::vector<double>> steps;
    for (auto& reader : readers[m]) {
      if (reader.empty()) continue;
      if (auto masses = reader.masses(plan.mixes[m].code); !masses.empty())
        steps.push_back(std::move(masses));
    }
    if (steps.size() == readers[m].size()) recompute(steps, found.mixes[m]);
  }
  return found;
}

}  // namespace leastwise::trial
