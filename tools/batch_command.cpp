#include <leastwise/trial_check.hpp>
#include <leastwise/trial_load.hpp>
#include <leastwise/trial_plan.hpp>
#include <leastwise/trial_report.hpp>

#include <boost/program_options/value_semantic.hpp>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "landscape_input.hpp"
#include "long_work.hpp"
#include "output.hpp"
#include "scan_code.hpp"
#include "scenario_input.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis batch_synopsis{
    "batch", "FILE",
    "Plans the trial in FILE ('-': standard input): what to weigh, mix, pack, label\n"
    "and buy, with a sheet for every batch. A treatment without a blend, or one that\n"
    "these balances cannot weigh to within 1 % of its rules, stops it, unless\n"
    "--keep-going; nothing is written then. Exit code: 0 every treatment has its\n"
    "product, or with --weighed no rule is missed by more than 1 %, 1 input rejected,\n"
    "2 a treatment has no product or a rule is broken, 3 stopped, 64 wrong usage, 74\n"
    "report not written.\n",
    "  leastwise batch trial.yaml\n"
    "  leastwise batch --format html --paper letter --output sheets.html trial.yaml\n"
    "  leastwise batch --format csv --output weigh.csv trial.yaml\n"
    "  leastwise batch --weighed weigh.csv trial.yaml\n"
    "  leastwise batch --weighed weigh.csv --format csv --table applied trial.yaml\n",
    true};

constexpr Synopsis plan_synopsis{
    "plan", "FILE",
    "Plans the trial in FILE ('-': standard input) and prints treatments, plots with\n"
    "their label codes, and what to buy; 'leastwise batch' adds the sheets. Exit\n"
    "code: as for batch.\n",
    "  leastwise plan trial.yaml\n"
    "  leastwise plan --format csv trial.yaml\n"
    "  leastwise plan --format csv --table purchases trial.yaml\n",
    true};

/// What to print of a plan.
struct Wanted {
  PlanPart part = PlanPart::everything;
  PlanList list = PlanList::batches;
  CheckList check = CheckList::batches;
};

po::options_description trial_options(PlanPart part) {
  po::options_description options;
  add_output_options(options, without_pictures);
  const auto text = [](const char* name) { return po::value<std::string>()->value_name(name); };
  options.add_options()(
      "table", text("NAME"),
      "which list csv prints: batches, plots, stakes, nutrients, totals, purchases or recipes");
  options.add_options()("keep-going", "plan the other treatments where one has no blend");
  options.add_options()("time-limit", text("SECONDS"), "stop after so long, exit code 3");
  options.add_options()("allow-outside", "let the trial name files outside its own folder");
  if (part == PlanPart::everything) {
    options.add_options()("weighed", text("CSV"),
                          "hold what was weighed (columns batch, material, actual_g) against the "
                          "plan and every rule; --table is then batches or applied");
  }
  return options;
}

std::string text_option(const po::variables_map& options, const char* name) {
  return options.count(name) > 0 ? options[name].as<std::string>() : std::string();
}

PlanList list_of(const std::string& name, PlanPart part) {
  if (name.empty()) return part == PlanPart::everything ? PlanList::batches : PlanList::plots;
  if (name == "batches") return PlanList::batches;
  if (name == "plots") return PlanList::plots;
  if (name == "stakes") return PlanList::stakes;
  if (name == "nutrients") return PlanList::nutrients;
  if (name == "purchases") return PlanList::purchases;
  if (name == "recipes") return PlanList::recipes;
  if (name == "totals") return PlanList::totals;
  throw UsageError(
      "--table expects batches, plots, stakes, nutrients, totals, purchases or recipes, found '" +
      name + (name == "applied" ? "'; applied needs --weighed" : "'"));
}

CheckList check_list_of(const std::string& name) {
  if (name.empty() || name == "batches") return CheckList::batches;
  if (name == "applied") return CheckList::applied;
  throw UsageError("with --weighed, --table expects batches or applied, found '" + name + "'");
}

Wanted wanted_of(const po::variables_map& options, PlanPart part, const Output& output) {
  const std::string table = text_option(options, "table");
  const bool weighed = part == PlanPart::everything && options.count("weighed") > 0;
  const Wanted wanted{part, weighed ? PlanList::batches : list_of(table, part),
                      weighed ? check_list_of(table) : CheckList::batches};
  if (options.count("table") > 0 && output.format != Format::csv) {
    throw UsageError("--table needs --format csv");
  }
  return wanted;
}

Trial trial_of(const std::string& file, const po::variables_map& options, const LongWork& work) {
  const LoadOptions how = load_options(options, work);
  const auto text = streamed(file, work);
  return read_under(work, [&] {
    return text ? parse_trial(*text, spoken(file), ".", how) : load_trial(file, how);
  });
}

TrialPlan plan_of(const Trial& trial, LongWork& work) { return plan_trial(trial, work.limits()); }

std::string report(const TrialPlan& plan, const Wanted& wanted, const Output& output) {
  switch (output.format) {
    case Format::json:
      return to_json(plan, wanted.part);
    case Format::csv:
      return to_csv(plan, wanted.list);
    case Format::html:
      if (plan.labels.codes && !scan_code_maker()) {
        complain("leastwise: labels have no codes to scan: this build is without libqrencode\n");
      }
      return to_html(plan, wanted.part, output.paper, scan_code_maker());
    case Format::text:
    case Format::svg:
      break;
  }
  return to_text(plan, wanted.part, {.colour = output.colour});
}

std::string report(const WeighedCheck& check, const TrialPlan& plan, CheckList list,
                   const Output& output) {
  switch (output.format) {
    case Format::json:
      return to_json(check);
    case Format::csv:
      return to_csv(check, plan, list);
    case Format::html:
      return to_html(check, output.paper);
    case Format::text:
    case Format::svg:
      break;
  }
  return to_text(check, {.colour = output.colour});
}

bool lacks_product(const TreatmentPlan& treatment) {
  return treatment.state == TreatmentState::infeasible ||
         treatment.state == TreatmentState::unweighable ||
         treatment.state == TreatmentState::stopped;
}

ExitCode exit_code_of(const TrialPlan& plan) {
  ExitCode code = blend_found;
  for (const auto& treatment : plan.treatments) {
    if (treatment.state == TreatmentState::stopped) return stopped;
    if (treatment.state == TreatmentState::infeasible ||
        treatment.state == TreatmentState::unweighable)
      code = infeasible;
  }
  return code;
}

/// Which rules the nearest load that can be weighed would break, and what helps.
void complain_of_rules(const TreatmentPlan& treatment) {
  for (const auto& rule : treatment.rules) {
    if (rule.verdict != Verdict::broken) continue;
    complain("  no load was found that these balances can weigh and that keeps '" + rule.rule +
             "' to within 1 %\n");
  }
  for (const auto& note : treatment.notes) {
    if (note.code == NoteCode::rounding_shift || note.code == NoteCode::load_over_capacity ||
        note.code == NoteCode::coating_over_limit || note.code == NoteCode::rate_above_usual)
      complain("  " + note.text + "\n");
  }
}

/// Treatments that cannot be held equal have their reason together.
void complain_of_hold(const TrialPlan& plan) {
  if (!plan.hold || plan.hold->status == Status::optimal) return;
  complain(hold_text(plan));
}

/// Says which treatments have no product, and why.
void complain_of(const TrialPlan& plan, bool keep_going) {
  complain_of_hold(plan);
  for (const auto& treatment : plan.treatments) {
    if (!lacks_product(treatment)) continue;
    complain("leastwise: treatment '" + treatment.name + "' (" + treatment.code +
             ") has no product: " + std::string(to_string(treatment.state)) + "\n");
    if (treatment.state == TreatmentState::unweighable) complain_of_rules(treatment);
    if (treatment.answer && treatment.answer->blend() == nullptr)
      complain(to_text(*treatment.answer) + "\n");
  }
  complain(keep_going
               ? "leastwise: the other treatments were planned\n"
               : "leastwise: nothing was written; --keep-going plans the other treatments\n");
}

int check(const Trial& trial, const TrialPlan& plan, const std::string& file, CheckList list,
          const Output& output) {
  const WeighedCheck checked = check_weighed(trial, plan, load_weighed(file));
  output.write(report(checked, plan, list, output));
  return checked.verdict == Verdict::broken ? infeasible : blend_found;
}

int run_trial(const Arguments& arguments, const Synopsis& synopsis, PlanPart part) {
  const po::options_description options = trial_options(part);
  const Parsed given = parsed(arguments, synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options, without_pictures);
  const Wanted wanted = wanted_of(given.options, part, output);
  const bool keep_going = given.options.count("keep-going") > 0;
  keep_input(*given.file, given.options);
  LongWork work(given.options);
  const Trial trial = trial_of(*given.file, given.options, work);
  const TrialPlan plan = plan_of(trial, work);
  work.end();
  if (!plan.complete()) {
    complain_of(plan, keep_going);
    if (!keep_going) return exit_code_of(plan);
  }
  const std::string weighed = text_option(given.options, "weighed");
  if (!weighed.empty()) keep_input(weighed, given.options);
  if (!weighed.empty()) return check(trial, plan, weighed, wanted.check, output);
  output.write(report(plan, wanted, output));
  return exit_code_of(plan);
}

int run_batch(const Arguments& arguments) {
  return run_trial(arguments, batch_synopsis, PlanPart::everything);
}

int run_plan(const Arguments& arguments) {
  return run_trial(arguments, plan_synopsis, PlanPart::overview);
}

}  // namespace

extern const Command batch_command;
const Command batch_command{"batch", "plan a trial: what to weigh, mix, pack, label and buy",
                            run_batch};

extern const Command plan_command;
const Command plan_command{"plan", "list a trial's plots and purchases", run_plan};

}  // namespace leastwise::cli
