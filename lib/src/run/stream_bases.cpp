#include "run/stream_bases.hpp"

#include <leastwise/compare.hpp>
#include <leastwise/load.hpp>
#include <leastwise/question.hpp>

#include <algorithm>
#include <stdexcept>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/named_file.hpp"
#include "run/run_options.hpp"
#include "scenario/rules.hpp"

namespace leastwise::run_door {
namespace {

constexpr std::size_t most_files = 64;  ///< kept ready at once

std::vector<std::string> names_of(const Scenario& scenario) {
  std::vector<std::string> names;
  for (const Material& material : scenario.materials()) names.push_back(material.name);
  return names;
}

}  // namespace

StreamBase::StreamBase(const Scenario& scenario)
    : prepared_(scenario), materials_(names_of(scenario)) {
  for (const auto& rule : rules::rules_of(scenario)) rules_.emplace(to_string(rule.id), rule.id);
}

WhatIf StreamBase::what_if(const StreamChange& change, const QuestionText& question) const {
  const auto check = [&](const std::string& name, const std::string& path) {
    if (std::ranges::find(materials_, name) == materials_.end())
      question.refuse(path, codes::unknown_material,
                      "expected a material of the scenario, found " + in_quotes(name) +
                          did_you_mean(name, materials_));
  };
  WhatIf what_if;
  for (const auto& [material, price] : change.prices) {
    check(material, "price." + material);
    what_if.prices.push_back({material, price});
  }
  for (const auto& [name, limit] : change.limits) {
    const auto rule = rules_.find(name);
    if (rule == rules_.end())
      question.refuse("limit." + name, bad_option,
                      "expected a rule whose limit the scenario states, found " + in_quotes(name) +
                          did_you_mean(name, rules_with_limits(prepared_.scenario())));
    what_if.limits.push_back({rule->second, limit});
  }
  for (const auto& material : change.without) check(material, "without");
  what_if.without = change.without;
  return what_if;
}

Formulation StreamBase::answer(const StreamChange& change, const QuestionText& question,
                               const SolveOptions& options) const {
  const WhatIf asked = what_if(change, question);
  try {
    return prepared_.formulate(asked, options);
  } catch (const std::logic_error& error) {  // a price or limit that may not be
    question.refuse(asked.limits.empty() ? "price" : "limit", bad_option, error.what());
  }
}

StreamBases::StreamBases(const StreamOptions& options) : options_(options) {
  for (const auto& [name, scenario] : options.bases)
    given_.emplace(name, std::make_shared<StreamBase>(scenario));
}

std::shared_ptr<const StreamBase> StreamBases::of(const StreamChange& change,
                                                  const QuestionText& question) {
  if (!change.base && options_.bases.empty())
    question.refuse({}, codes::missing_key,
                    "expected a scenario, or the name of one under base, found neither");
  const std::string& name = change.base ? *change.base : options_.bases.front().name;
  if (const auto given = given_.find(name); given != given_.end()) return given->second;
  return from_file(name, question);
}

std::shared_ptr<const StreamBase> StreamBases::from_file(const std::string& name,
                                                         const QuestionText& question) {
  const LoadOptions how{.allow_outside = options_.allow_outside, .stop = options_.stop};
  const std::scoped_lock lock(guard_);
  if (const auto kept = files_.find(name); kept != files_.end()) {
    kept->second.used = ++uses_;
    return kept->second.base;
  }
  if (const auto fault = fault_of_name(options_.folder, name, "question", how))
    question.refuse("base", fault->code, fault->message);
  const auto file = options_.folder / name;
  if (const TextFile text = read_named_file(file, how); !text.good() && text.line == 0)
    question.refuse("base", text.code, "the file " + in_quotes(name) + " " + text.problem);
  auto base = std::make_shared<StreamBase>(load_scenario(file, how));
  if (files_.size() >= most_files)
    files_.erase(
        std::ranges::min_element(files_, {}, [](const auto& kept) { return kept.second.used; }));
  files_[name] = {base, ++uses_};
  return base;
}

}  // namespace leastwise::run_door
