#include "report/trial/trial_mix_json.hpp"

#include <cstdint>
#include <string>

#include "report/kit/numbers.hpp"
#include "report/trial/trial_check_values.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

/// What is thinned out in a step.
std::int64_t powder_mg(const MixStep& step, const std::string& carrier) {
  std::int64_t mg = 0;
  for (const auto& weighing : step.weighings)
    if (weighing.material != carrier) mg += weighing.mass_mg;
  return mg;
}

/// One part in so many, to the nearest.
std::int64_t parts_of(const MixStep& step, const std::string& carrier) {
  const auto powder = powder_mg(step, carrier);
  return (step.mass_mg + powder / 2) / powder;
}

}  // namespace

Json json_premixes(const TrialPlan& plan, const TreatmentPlan& t) {
  Json list = Json::array();
  for (const auto& w : t.weighings) {
    if (!w.mix) continue;
    const StockMix& mix = plan.mixes[*w.mix];
    double carried = 0;
    for (const auto& part : mix.parts) carried += part.carrier ? part.fraction : 0;
    for (const auto& part : mix.parts) {
      if (part.carrier) continue;
      const double take_g = static_cast<double>(w.mass_mg) / 1000;
      list.push_back({{"material", part.material},
                      {"carrier", mix.carrier.empty() ? Json(nullptr) : Json(mix.carrier)},
                      {"parts", parts_of(mix.steps.front(), mix.carrier)},
                      {"steps", json_array(mix.steps,
                                           [&mix](const MixStep& step) {
                                             const auto powder = powder_mg(step, mix.carrier);
                                             return Json{
                                                 {"powder_g", grams(powder)},
                                                 {"carrier_g", grams(step.mass_mg - powder)}};
                                           })},
                      {"mix", mix.code},
                      {"take_g", json_number(take_g)},
                      {"holds_g", json_number(take_g * part.fraction)},
                      {"carrier_g", json_number(take_g * carried)}});
    }
  }
  return list;
}

Json json_mix(const StockMix& m) {
  return {{"mix", m.code},
          {"application", m.application + 1},
          {"carrier", m.carrier.empty() ? Json(nullptr) : Json(m.carrier)},
          {"carrier_in_load", m.carrier_in_load},
          {"solution", m.solution},
          {"makes_g", grams(m.mass_mg)},
          {"taken_g", grams(m.taken_mg)},
          {"batches", m.batch_codes},
          {"parts", json_array(m.parts,
                               [](const MixPart& part) {
                                 return Json{{"material", part.material},
                                             {"fraction", json_number(part.fraction)},
                                             {"carrier", part.carrier},
                                             {"weighed_g", grams(part.weighed_mg)},
                                             {"used_g", grams(part.used_mg)}};
                               })},
          {"steps", json_array(m.steps, [](const MixStep& step) {
             return Json{{"batch", step.batch_code},
                         {"mass_g", grams(step.mass_mg)},
                         {"weighings", json_array(step.weighings, [](const MixWeighing& w) {
                            return Json{{"material", w.material},
                                        {"weigh_g", grams(w.mass_mg)},
                                        {"balance", w.balance},
                                        {"readability_g", grams(w.readability_mg)}};
                          })}};
           })}};
}

}  // namespace leastwise::report
