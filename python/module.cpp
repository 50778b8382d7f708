// The Python module leastwise._core: the public headers as they are, without words for people. What
// a person calls is python/leastwise/*.py.
#include <pybind11/functional.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <leastwise/leastwise.hpp>

#include <chrono>
#include <limits>
#include <optional>
#include <stdexcept>
#include <string>
#include <tuple>
#include <unordered_map>
#include <utility>
#include <vector>

#include "watch.hpp"

namespace py = pybind11;
using namespace leastwise;
using leastwise::python::Watch;

namespace {

/// An answer of any kind, and its reports.
struct Answered {
  Answer value;
};

template <class Write>
std::string written(const Answered& answer, const Write& write) {
  return std::visit([&](const auto& one) { return write(one); }, answer.value);
}

/// CSV, or one table of it where the answer has such tables.
std::string csv_of(const Answered& answered, const std::string& name) {
  if (name.empty()) return written(answered, [](const auto& one) { return to_csv(one); });
  const auto table = blend_table(name);
  if (!table) throw py::value_error("no table of that name");
  if (const auto* blend = std::get_if<Formulation>(&answered.value)) return to_csv(*blend, *table);
  if (const auto* lines = std::get_if<Comparison>(&answered.value)) return to_csv(*lines, *table);
  throw py::value_error("no tables in this report");
}

using Range = std::optional<std::pair<double, double>>;

Limits limits_of(const std::pair<double, double>& range) { return {range.first, range.second}; }

Answered asked(const Scenario& scenario, const Question& question, Watch& watch) {
  return {watch.run([&](const SolveOptions& limits) { return ask(scenario, question, limits); })};
}

Answered blend(const Scenario& scenario, std::optional<double> step_kg,
               std::optional<double> batch_kg, std::optional<double> batch_hectares, bool intervals,
               Watch& watch) {
  return asked(scenario, BlendQuestion{step_kg, batch_kg, batch_hectares, intervals}, watch);
}

Answered prices(const Scenario& scenario, const std::vector<std::pair<std::string, Range>>& vary,
                const std::optional<std::tuple<std::string, double, double>>& limit,
                std::optional<int> samples, Watch& watch) {
  PricesQuestion question;
  for (const auto& [material, range] : vary)
    question.vary.push_back(
        {material, range ? std::optional(limits_of(*range)) : std::optional<Limits>()});
  if (limit)
    question.limit = VariedLimit{std::get<0>(*limit), {std::get<1>(*limit), std::get<2>(*limit)}};
  question.samples = samples;
  return asked(scenario, question, watch);
}

Answered alternatives_of(const Scenario& scenario, std::optional<int> count,
                         std::optional<double> within, const std::string& wish,
                         const std::string& of, Watch& watch) {
  AlternativesQuestion question{count, within, {}, of};
  if (wish == "fewest") question.wish = SecondaryObjective::fewest_materials;
  if (wish == "least_mass") question.wish = SecondaryObjective::least_mass;
  if (wish == "least_of") question.wish = SecondaryObjective::least_of;
  return asked(scenario, question, watch);
}

Answered compared(const std::vector<std::pair<std::string, Scenario>>& scenarios, Watch& watch) {
  std::vector<NamedScenario> named;
  for (const auto& [name, scenario] : scenarios) named.push_back({name, scenario});
  return {watch.run([&](const SolveOptions& limits) { return compare(named, limits); })};
}

std::string proven(const Scenario& scenario, bool intervals, Watch& watch) {
  return watch.run([&](const SolveOptions& limits) {
    return to_json(formulate_with_proof(scenario, {.time_limit = limits.time_limit,
                                                   .stop = limits.stop,
                                                   .intervals = intervals,
                                                   .progress = limits.progress}));
  });
}

std::string ran(const std::string& command, const std::string& scenario, const std::string& options,
                const std::string& folder, bool allow_outside, const std::string& name,
                Watch& watch) {
  return watch.run([&](const SolveOptions& limits) {
    return run(command, scenario, options,
               {.folder = folder, .allow_outside = allow_outside, .name = name, .limits = limits});
  });
}

using Amounts = std::vector<std::pair<std::string, double>>;
/// What differs: prices, limits, materials left out.
using Difference = std::tuple<Amounts, Amounts, std::vector<std::string>>;

/// Each text of few as one Python string.
class Words {
 public:
  const py::str& of(const std::string& text) {
    const auto known = words_.find(text);
    return known != words_.end() ? known->second
                                 : words_.emplace(text, py::str(text)).first->second;
  }

 private:
  std::unordered_map<std::string, py::str> words_{};
};

std::vector<WhatIf> what_ifs(const Scenario& scenario, const std::vector<Difference>& differences) {
  std::vector<WhatIf> questions;
  questions.reserve(differences.size());
  for (const auto& [prices, limits, without] : differences) {
    WhatIf& question = questions.emplace_back();
    for (const auto& [material, price] : prices) question.prices.push_back({material, price});
    for (const auto& [rule, limit] : limits)
      question.limits.push_back({rule_named(scenario, rule), limit});
    question.without = without;
  }
  return questions;
}

/// Status, cost and kg of each material for every question.
std::tuple<py::list, py::list, py::list> asked_many(const Scenario& scenario,
                                                    const std::vector<Difference>& differences,
                                                    unsigned threads, Watch& watch) {
  const std::vector<WhatIf> questions = what_ifs(scenario, differences);
  const auto answers = watch.run([&](const SolveOptions& limits) {
    return ask_many(PreparedBlend(scenario), questions, threads, limits);
  });
  Words words;
  py::list status(answers.size());
  py::list cost(answers.size());
  py::list kg(answers.size());
  for (std::size_t k = 0; k < answers.size(); ++k) {
    const Blend* blend = answers[k].blend();
    py::dict amounts;
    double all = std::numeric_limits<double>::quiet_NaN();
    if (blend != nullptr) {
      all = blend->cost_per_ha.value_or(blend->cost_per_t);
      for (const auto& portion : blend->portions)
        amounts[words.of(portion.material)] = portion.kg_per_ha.value_or(portion.kg_per_t);
    }
    status[k] = words.of(std::string(to_string(answers[k].status())));
    cost[k] = all;
    kg[k] = std::move(amounts);
  }
  return {std::move(status), std::move(cost), std::move(kg)};
}

/// The answers to lines of a stream, each with its end, and whether all were answered.
std::pair<std::vector<std::string>, bool> answered_lines(
    const std::vector<std::string>& lines,
    const std::vector<std::pair<std::string, Scenario>>& bases, const std::string& folder,
    bool allow_outside, bool full, std::optional<double> time_limit_each, unsigned threads,
    long first_line, Watch& watch) {
  return watch.run([&](const SolveOptions& limits) {
    StreamOptions how;
    for (const auto& [name, scenario] : bases) how.bases.push_back({name, scenario});
    how.folder = folder;
    how.allow_outside = allow_outside;
    how.full = full;
    if (time_limit_each) how.time_limit = std::chrono::duration<double>(*time_limit_each);
    how.threads = threads;
    how.first_line = first_line;
    how.stop = limits.stop;
    std::vector<std::string> answers;
    std::size_t next = 0;
    const auto all = static_cast<long>(lines.size());
    const StreamEnd end = answer_lines(
        [&] { return next < lines.size() ? std::optional(lines[next++]) : std::nullopt; },
        [&](std::string_view text) {
          for (std::size_t at = 0; at < text.size();) {
            const std::size_t after = text.find('\n', at) + 1;
            answers.emplace_back(text.substr(at, after - at));
            at = after;
          }
          limits.progress({"lines", static_cast<long>(answers.size()), all});
        },
        how);
    return std::pair(std::move(answers), end.complete);
  });
}

Scenario without(const Scenario& scenario, const std::vector<std::string>& materials) {
  try {
    return PreparedBlend(scenario).changed({.without = materials});
  } catch (const std::out_of_range& error) {
    throw QuestionError("without", error.what());
  }
}

std::vector<std::pair<std::string, double>> price_list(const Scenario& scenario) {
  std::vector<std::pair<std::string, double>> prices;
  for (const Material& material : scenario.materials())
    prices.emplace_back(material.name, material.price_per_t);
  return prices;
}

/// A plan of a trial, with what it was planned from.
struct Planned {
  Trial trial;
  TrialPlan plan;
};

Planned planned(const Trial& trial, Watch& watch) {
  return {trial, watch.run([&](const SolveOptions& limits) { return plan_trial(trial, limits); })};
}

PlanList list_of(const std::string& name) {
  if (name == "plots") return PlanList::plots;
  if (name == "nutrients") return PlanList::nutrients;
  if (name == "purchases") return PlanList::purchases;
  if (name == "recipes") return PlanList::recipes;
  return PlanList::batches;
}

/// What reading a text may do.
LoadOptions reading(bool allow_outside) { return {.allow_outside = allow_outside}; }

void add_scenario(py::module_& module) {
  py::class_<Scenario>(module, "Scenario")
      .def_static("load", [](const std::string& file,
                             bool outside) { return load_scenario(file, reading(outside)); })
      .def_static("parse",
                  [](const std::string& text, const std::string& name, const std::string& folder,
                     bool outside) { return parse_scenario(text, name, folder, reading(outside)); })
      .def_property_readonly("title", [](const Scenario& s) { return s.title(); })
      .def_property_readonly("currency", [](const Scenario& s) { return s.currency(); })
      .def_property_readonly(
          "basis", [](const Scenario& s) { return s.basis() == Basis::per_hectare ? "ha" : "t"; })
      .def_property_readonly("prices", &price_list)
      .def_property_readonly("rules", [](const Scenario& s) { return rules_with_limits(s); })
      .def("with_price",
           [](const Scenario& s, const std::string& material, double price) {
             const PriceChange change{material, price};
             return with_prices(s, {&change, 1});
           })
      .def("with_limit", [](const Scenario& s, const std::string& rule,
                            double limit) { return with_limit(s, rule, limit); })
      .def("without", &without)
      .def("check",
           [](const Scenario& s, const std::string& name) {
             return to_json(CheckedScenario{s}, {.source = name});
           })
      .def("variants",
           [](const Scenario& s) {
             std::vector<std::pair<std::string, Scenario>> list;
             for (auto& named : with_variants(s))
               list.emplace_back(named.name, std::move(named.scenario));
             return list;
           })
      .def("materials", [](const Scenario& s) { return to_json(s.materials()); });
}

void add_answers(py::module_& module) {
  py::class_<Answered>(module, "Answer")
      .def("json",
           [](const Answered& a) {
             return written(a, [](const auto& one) { return to_json(one); });
           })
      .def("text",
           [](const Answered& a) {
             return written(a, [](const auto& one) { return to_text(one); });
           })
      .def("csv", &csv_of)
      .def("html",
           [](const Answered& a) {
             return written(a, [](const auto& one) { return to_html(one); });
           })
      .def("svg", [](const Answered& a) {
        return written(a, [](const auto& one) { return to_svg(one); });
      });
  py::class_<Planned>(module, "Plan")
      .def("json",
           [](const Planned& p, bool sheets) {
             return to_json(p.plan, sheets ? PlanPart::everything : PlanPart::overview);
           })
      .def("text", [](const Planned& p) { return to_text(p.plan, PlanPart::everything); })
      .def("csv",
           [](const Planned& p, const std::string& list) { return to_csv(p.plan, list_of(list)); })
      .def("html", [](const Planned& p) { return to_html(p.plan, PlanPart::everything); })
      .def("check", [](const Planned& p, const std::string& csv) {
        return to_json(check_weighed(p.trial, p.plan, parse_weighed(csv)));
      });
  py::class_<Trial>(module, "Trial")
      .def_static("load", [](const std::string& file,
                             bool outside) { return load_trial(file, reading(outside)); })
      .def_static("parse",
                  [](const std::string& text, const std::string& name, const std::string& folder,
                     bool outside) { return parse_trial(text, name, folder, reading(outside)); });
}

void add_questions(py::module_& module) {
  module.def("blend", &blend);
  module.def("prices", &prices);
  module.def("risk", [](const Scenario& s, std::optional<long> draws,
                        std::optional<std::uint64_t> seed, unsigned threads, Watch& watch) {
    return asked(s, RiskQuestion{draws, seed, threads}, watch);
  });
  module.def("alternatives", &alternatives_of);
  module.def("compare", &compared);
  module.def("sources", [](const Scenario& s, const std::string& nutrient, Watch& watch) {
    return asked(s, CompareQuestion{nutrient}, watch);
  });
  module.def("proven", &proven);
  module.def("verify", [](const std::string& proof, const Scenario& scenario, Watch& watch) {
    return watch.run([&](const SolveOptions& limits) {
      return to_json(verify(parse_proof(proof, "proof", limits.stop), scenario, limits));
    });
  });
  module.def("plan", &planned);
  module.def("run", &ran);
  module.def("what_if", &asked_many);
  module.def("answer_lines", &answered_lines);
  module.def("schema", [](const std::string& name) {
    if (name == "scenario") return std::string(scenario_schema());
    if (name == "trial") return std::string(trial_schema());
    if (name == "season") return std::string(season_schema());
    if (name == "reports") return std::string(report_schemas());
    return report_schema(name);
  });
  module.def("materials", [] { return to_json(built_in_materials()); });
  module.def("version", [] { return std::string(version()); });
}

}  // namespace

PYBIND11_MODULE(_core, module) {
  // Python knows what was rejected by the report, which is the message.
  static py::exception<InputError> rejected(module, "Rejected");
  static py::exception<QuestionError> misfit(module, "Misfit");
  py::register_exception_translator([](std::exception_ptr thrown) {
    try {
      if (thrown) std::rethrow_exception(thrown);
    } catch (const InputError& error) {
      rejected(to_json(error, "scenario").c_str());
    } catch (const QuestionError& error) {
      misfit((error.option() + "\n" + error.what()).c_str());
    }
  });
  py::class_<Watch>(module, "Watch").def(py::init<std::optional<double>, py::object>());
  add_scenario(module);
  add_answers(module);
  add_questions(module);
}
