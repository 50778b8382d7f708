#include <leastwise/load.hpp>

#include <stdexcept>

#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

leastwise_result leastwise_scenario_load(const char* file, int allow_outside,
                                         leastwise_scenario** scenario, leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(scenario);
    out = new leastwise_scenario{
        leastwise::load_scenario(text_of(file, "file"), {.allow_outside = allow_outside != 0})};
  });
}

leastwise_result leastwise_scenario_parse(const char* text, size_t length, const char* name,
                                          const char* folder, leastwise_scenario** scenario,
                                          leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(scenario);
    const std::string_view whole(&required(text, "text"), length);
    out = new leastwise_scenario{leastwise::parse_scenario(
        whole, name == nullptr ? "scenario" : name, folder == nullptr ? "" : folder)};
  });
}

leastwise_result leastwise_scenario_from_draft(const leastwise_draft* draft,
                                               leastwise_scenario** scenario,
                                               leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(scenario);
    out = new leastwise_scenario{leastwise::Scenario(required(draft, "draft").value)};
  });
}

leastwise_result leastwise_scenario_with_price(const leastwise_scenario* scenario,
                                               const char* material, double price_per_t,
                                               leastwise_scenario** changed,
                                               leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(changed);
    const leastwise::Scenario& before = required(scenario, "scenario").value;
    const std::string name = text_of(material, "material");
    try {
      out = new leastwise_scenario{before.with_price(name, price_per_t)};
    } catch (const std::out_of_range& fault) {
      throw CallerFault(fault.what());
    } catch (const std::invalid_argument& fault) {
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

// Embedded files end in a zero byte.
const char* leastwise_scenario_schema(void) { return leastwise::scenario_schema().data(); }
