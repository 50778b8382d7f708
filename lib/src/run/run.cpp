#include <leastwise/catalogue.hpp>
#include <leastwise/load.hpp>
#include <leastwise/proof.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/question.hpp>
#include <leastwise/render.hpp>
#include <leastwise/report.hpp>
#include <leastwise/run.hpp>
#include <leastwise/season_load.hpp>
#include <leastwise/trial_check.hpp>
#include <leastwise/trial_load.hpp>
#include <leastwise/trial_report.hpp>

#include <algorithm>
#include <array>
#include <chrono>
#include <optional>
#include <stop_token>
#include <string>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "run/reading_time.hpp"
#include "run/run_options.hpp"

namespace leastwise {
namespace {

using namespace run_door;

/// One call of `run` at work.
class Run {
  template <class Read>
  auto read(Read call) {
    const auto reading = time_.reading();
    return call(LoadOptions{.allow_outside = how_.allow_outside, .stop = reading.token()});
  }

  /// Runs `call`; a question that does not fit is a finding about the option.
  template <class Call>
  auto put(Call call) -> decltype(call()) {
    try {
      return call();
    } catch (const QuestionError& error) {
      given_.refuse(error.option(), bad_option, error.option() + " " + error.what());
    }
  }

 public:
  Run(std::string_view scenario, const OptionsText& options, const RunOptions& how)
      : text_(scenario),
        given_(options),
        how_(how),
        time_(limit_of(options, how), how.limits.stop) {}

  std::string blend() {
    if (!options().proof) return answered(options().blend);
    const SolveOptions limits = time_.left(how_.limits);
    if (options().blend.step_kg)
      given_.refuse("proof", bad_option, "proof cannot stand beside step_kg");
    if (!options().blend.why.empty())
      given_.refuse("proof", bad_option, "proof cannot stand beside why");
    const auto proven = formulate_with_proof(scenario(), {.time_limit = limits.time_limit,
                                                          .stop = limits.stop,
                                                          .intervals = options().blend.intervals,
                                                          .progress = limits.progress});
    return to_json(proven);
  }
  std::string quote() {
    const Scenario quoted = scenario();
    const SolveOptions limits = time_.left(how_.limits);
    const Formulation answer = formulate(quoted, {.time_limit = limits.time_limit,
                                                  .stop = limits.stop,
                                                  .intervals = false,
                                                  .progress = limits.progress});
    if (const Blend* blend = answer.blend())
      return to_json(quote_of(quoted, *blend), {.source = how_.name});
    return to_json(answer);
  }
  std::string prices() { return answered(options().prices_map); }
  std::string risk() { return answered(options().risk); }
  std::string alternatives() { return answered(options().alternatives); }

  std::string compare() {
    if (options().others.empty()) return answered(options().compare);
    if (!options().compare.source.empty())
      given_.refuse("source", bad_option, "source cannot stand beside others");
    std::vector<NamedScenario> all;
    add(all, how_.name, scenario());
    for (const auto& other : options().others)
      add(all, other.name, read([&](const LoadOptions& load) {
            return parse_scenario(other.text, other.name, how_.folder, load);
          }));
    return to_json(leastwise::compare(all, time_.left(how_.limits)));
  }

  std::string check() {
    const Scenario checked = scenario();
    static_cast<void>(with_variants(checked));  // throws what is wrong with any of them
    return to_json(CheckedScenario{checked}, {.source = how_.name});
  }

  std::string materials() {
    if (text_.empty()) return to_json(built_in_materials());
    return to_json(scenario().materials());
  }

  std::string verify() {
    if (!options().proof_text)
      given_.refuse("proof", codes::missing_key, "verify needs the option proof, a text");
    const Proof proof = read([&](const LoadOptions& load) {
      return parse_proof(*options().proof_text, "proof", load.stop);
    });
    const Scenario proved = scenario();
    return to_json(leastwise::verify(proof, proved, time_.left(how_.limits)));
  }

  std::string season() {
    const Season stated = read(
        [&](const LoadOptions& load) { return parse_season(text_, how_.name, how_.folder, load); });
    return to_json(plan_season(stated, time_.left(how_.limits)));
  }

  std::string plan(PlanPart part) {
    const Trial trial = read(
        [&](const LoadOptions& load) { return parse_trial(text_, how_.name, how_.folder, load); });
    const TrialPlan planned = plan_trial(trial, time_.left(how_.limits));
    if (!options().weighed) return to_json(planned, part);
    return to_json(check_weighed(trial, planned, parse_weighed(*options().weighed)));
  }

 private:
  [[nodiscard]] const Options& options() const { return given_.options(); }

  static std::optional<Seconds> limit_of(const OptionsText& options, const RunOptions& how) {
    auto limit = how.limits.time_limit;
    if (const auto& asked = options.options().time_limit_s)
      limit = limit ? std::min(*limit, Seconds(*asked)) : Seconds(*asked);
    return limit;
  }

  Scenario scenario() {
    const Scenario stated = read([&](const LoadOptions& load) {
      return parse_scenario(text_, how_.name, how_.folder, load);
    });
    const auto& change = options().change;
    return put(
        [&] { return with_prices(change ? varied(stated, *change) : stated, options().prices); });
  }

  static void add(std::vector<NamedScenario>& all, const std::string& name,
                  const Scenario& scenario) {
    for (auto& named : with_variants(scenario)) {
      const bool first = named.name == with_variants_first;
      all.push_back({first ? name : name + " " + named.name, std::move(named.scenario)});
    }
  }

  std::string answered(const Question& question) {
    const Scenario asked = scenario();
    return put([&] {
      return std::visit([](const auto& answer) { return to_json(answer); },
                        ask(asked, question, time_.left(how_.limits)));
    });
  }

  static constexpr std::string_view with_variants_first = "as written";

  std::string_view text_;
  const OptionsText& given_;
  const RunOptions& how_;
  ReadingTime time_;
};

struct RunCommand {
  std::string_view name{};
  std::string (*report)(Run& run) = nullptr;
};

constexpr std::array<RunCommand, 12> commands{{
    {"blend", [](Run& run) { return run.blend(); }},
    {"quote", [](Run& run) { return run.quote(); }},
    {"check", [](Run& run) { return run.check(); }},
    {"compare", [](Run& run) { return run.compare(); }},
    {"prices", [](Run& run) { return run.prices(); }},
    {"risk", [](Run& run) { return run.risk(); }},
    {"alternatives", [](Run& run) { return run.alternatives(); }},
    {"batch", [](Run& run) { return run.plan(PlanPart::everything); }},
    {"plan", [](Run& run) { return run.plan(PlanPart::overview); }},
    {"season", [](Run& run) { return run.season(); }},
    {"materials", [](Run& run) { return run.materials(); }},
    {"verify", [](Run& run) { return run.verify(); }},
}};

std::string no_such_command(std::string_view name) {
  const auto known = run_commands();
  Diagnostic diagnostic;
  diagnostic.code = unknown_command;
  const std::string meant = did_you_mean(name, known);
  diagnostic.message = "unknown command " + in_quotes(name) +
                       (meant.empty() ? "; expected one of " + listed(known, known.size()) : meant);
  diagnostic.path = "command";
  return to_json(InputError({std::move(diagnostic)}), name);
}

}  // namespace

std::vector<std::string> run_commands() {
  std::vector<std::string> names;
  for (const RunCommand& command : commands) names.emplace_back(command.name);
  return names;
}

std::string run(std::string_view command, std::string_view scenario, std::string_view options,
                const RunOptions& how) {
  const auto* found = std::ranges::find(commands, command, &RunCommand::name);
  if (found == commands.end()) return no_such_command(command);
  try {
    const OptionsText given(command, options);
    Run at_work(scenario, given, how);
    return found->report(at_work);
  } catch (const InputError& error) {
    return to_json(error, command);
  } catch (const LoadStopped&) {
    const bool asked = how.limits.stop.stop_requested();
    return unread_to_json(command, asked ? StopCause::cancelled : StopCause::time_limit,
                          asked ? "stopped before it was known whether the input is right"
                                : "time limit: stopped before it was known whether the input is "
                                  "right");
  }
}

}  // namespace leastwise
