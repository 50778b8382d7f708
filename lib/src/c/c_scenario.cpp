#include <leastwise/load.hpp>
#include <leastwise/prepared.hpp>
#include <leastwise/question.hpp>

#include <limits>
#include <stdexcept>
#include <string>

#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

namespace {

/// Gives out what `change` makes of a scenario; a change that does not fit is the caller's fault.
template <class Change>
leastwise_result changed_by(const leastwise_scenario* scenario, leastwise_scenario** changed,
                            leastwise_error** error, const Change& change) {
  return guarded(error, [&] {
    auto& out = cleared(changed);
    try {
      out = new leastwise_scenario{change(required(scenario, "scenario").value)};
    } catch (const leastwise::QuestionError& fault) {
      throw CallerFault(fault.option() + " " + fault.what());
    }
  });
}

}  // namespace

leastwise_result leastwise_scenario_load(const char* file, int allow_outside,
                                         leastwise_scenario** scenario, leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(scenario);
    out = new leastwise_scenario{
        leastwise::load_scenario(text_of(file, "file"), {.allow_outside = allow_outside != 0})};
  });
}

leastwise_result leastwise_scenario_parse(const char* text, size_t length,
                                          const leastwise_call* call, leastwise_scenario** scenario,
                                          leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(scenario);
    const std::string_view whole(&required(text, "text"), length);
    leastwise::RunOptions how;
    leastwise::LoadOptions reading;
    if (call != nullptr) {
      how = call->value;
      reading = {.allow_outside = how.allow_outside, .stop = call->stop.get_token()};
    }
    out = new leastwise_scenario{leastwise::parse_scenario(whole, how.name, how.folder, reading)};
  });
}

leastwise_result leastwise_scenario_with_price(const leastwise_scenario* scenario,
                                               const char* material, double price_per_t,
                                               leastwise_scenario** changed,
                                               leastwise_error** error) {
  return changed_by(scenario, changed, error, [&](const leastwise::Scenario& before) {
    const leastwise::PriceChange change{text_of(material, "material"), price_per_t};
    return leastwise::with_prices(before, {&change, 1});
  });
}

leastwise_result leastwise_scenario_with_limit(const leastwise_scenario* scenario, const char* rule,
                                               double limit, leastwise_scenario** changed,
                                               leastwise_error** error) {
  return changed_by(scenario, changed, error, [&](const leastwise::Scenario& before) {
    return leastwise::with_limit(before, text_of(rule, "rule"), limit);
  });
}

leastwise_result leastwise_scenario_without(const leastwise_scenario* scenario,
                                            const char* material, leastwise_scenario** changed,
                                            leastwise_error** error) {
  return changed_by(scenario, changed, error, [&](const leastwise::Scenario& before) {
    try {
      return leastwise::PreparedBlend(before).changed({.without = {text_of(material, "material")}});
    } catch (const std::out_of_range& fault) {
      throw CallerFault(fault.what());
    }
  });
}

void leastwise_scenario_free(leastwise_scenario* scenario) { delete scenario; }

const char* leastwise_scenario_title(const leastwise_scenario* scenario) {
  return scenario == nullptr ? "" : scenario->value.title().c_str();
}

const char* leastwise_scenario_currency(const leastwise_scenario* scenario) {
  return scenario == nullptr ? "" : scenario->value.currency().c_str();
}

size_t leastwise_scenario_material_count(const leastwise_scenario* scenario) {
  return scenario == nullptr ? 0 : scenario->value.materials().size();
}

const char* leastwise_scenario_material(const leastwise_scenario* scenario, size_t index) {
  if (index >= leastwise_scenario_material_count(scenario)) return nullptr;
  return scenario->value.materials()[index].name.c_str();
}

double leastwise_scenario_price(const leastwise_scenario* scenario, size_t index) {
  if (index >= leastwise_scenario_material_count(scenario))
    return std::numeric_limits<double>::quiet_NaN();
  return scenario->value.materials()[index].price_per_t;
}
