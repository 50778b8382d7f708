#include <doctest/doctest.h>
#include <leastwise/version.hpp>

#include <sstream>

#include "cli/run.hpp"
#include "cli/scenarios.hpp"

using namespace leastwise::cli_test;

namespace {

constexpr int usage = 64;

}  // namespace

TEST_SUITE_BEGIN("usage");

TEST_CASE("help goes to standard output, names every command and every exit code") {
  const Ran ran = run({"--help"});
  CHECK(ran.exit_code == 0);
  CHECK(ran.err.empty());
  for (const char* word : {"blend", "check", "materials", "schema", "0 blend found", "74"}) {
    CHECK(contains(ran.out, word));
  }
}

TEST_CASE("every command has a help page with an example") {
  for (const char* command : {"blend", "check", "materials", "schema"}) {
    const Ran ran = run({command, "--help"});
    CHECK(ran.exit_code == 0);
    CHECK(ran.err.empty());
    CHECK(contains(ran.out, std::string("Usage: leastwise ") + command));
    CHECK(contains(ran.out, std::string("Examples:\n  leastwise ") + command));
    CHECK(run({"help", command}).out == ran.out);
  }
}

TEST_CASE("help pages keep within 80 columns and end no line in a space") {
  for (const std::vector<std::string>& arguments : {std::vector<std::string>{"--help"},
                                                    {"help", "blend"},
                                                    {"help", "check"},
                                                    {"help", "materials"},
                                                    {"help", "schema"}}) {
    std::istringstream page(run(arguments).out);
    for (std::string line; std::getline(page, line);) {
      CAPTURE(line);
      CHECK(line.size() <= 80);
      CHECK_FALSE(line.ends_with(' '));
    }
  }
}

TEST_CASE("the version is the library's") {
  const Ran ran = run({"--version"});
  CHECK(ran.exit_code == 0);
  CHECK(ran.out == "leastwise " + std::string(leastwise::version()) + "\n");
}

TEST_CASE("no command at all is wrong usage") {
  const Ran ran = run(std::vector<std::string>{});
  CHECK(ran.exit_code == usage);
  CHECK(ran.out.empty());
  CHECK(contains(ran.err, "a command is missing"));
}

TEST_CASE("an unknown command is wrong usage, and the nearest one is named") {
  const Ran ran = run({"blnd", "field.yaml"});
  CHECK(ran.exit_code == usage);
  CHECK(ran.out.empty());
  CHECK(contains(ran.err, "unknown command 'blnd'; did you mean 'blend'?"));
  CHECK_FALSE(contains(run({"harvest"}).err, "did you mean"));
}

TEST_CASE("an unknown option is wrong usage, and the nearest one is named") {
  const Ran ran = run({"blend", "--fromat", "json", "field.yaml"});
  CHECK(ran.exit_code == usage);
  CHECK(ran.out.empty());
  CHECK(contains(ran.err, "unknown option '--fromat'; did you mean '--format'?"));
  CHECK(run({"--verzion"}).exit_code == usage);
}

TEST_CASE("options are not guessed from their first letters") {
  CHECK(run({"blend", "--form", "json", "field.yaml"}).exit_code == usage);
}

TEST_CASE("a missing FILE, a second FILE and a format without a schema are wrong usage") {
  CHECK(contains(run({"blend"}).err, "FILE is missing"));
  CHECK(run({"blend"}).exit_code == usage);
  CHECK(run({"blend", "a.yaml", "b.yaml"}).exit_code == usage);
  CHECK(run({"schema", "trial", "scenario"}).exit_code == usage);
  const Ran misspelt = run({"schema", "trail"});
  CHECK(misspelt.exit_code == usage);
  CHECK(misspelt.out.empty());
  CHECK(contains(misspelt.err, "found 'trail'; did you mean 'trial'?"));
}

TEST_CASE("who asks for JSON gets JSON when the input is rejected or the usage is wrong") {
  const Folder folder;
  const std::string broken = folder.write("a.yaml", "leastwise: 1\nrates_kg_per_ha: {N: {mn: 1}}\n");
  const Ran rejected = run({"check", "--format", "json", broken});
  CHECK(rejected.exit_code == 1);
  CHECK(contains(rejected.out, "\"status\": \"rejected\""));
  CHECK(contains(rejected.out, "\"report\": \"check\""));
  CHECK(contains(rejected.out, "\"code\": \"unknown-key\""));
  CHECK(contains(rejected.err, "unknown key 'mn'"));
  CHECK(run({"check", broken}).out.empty());

  const Ran misused = run({"blend", "--format=json", "--timelimit", "3", broken});
  CHECK(misused.exit_code == usage);
  CHECK(contains(misused.out, "\"code\": \"usage\""));
  CHECK(contains(misused.out, "did you mean '--time-limit'?"));
}

TEST_CASE("each kind of report has a schema of its own, which names all that it needs") {
  const Ran all = run({"schema", "reports"});
  CHECK(all.exit_code == 0);
  const Ran one = run({"schema", "price_map"});
  CHECK(contains(one.out, "\"#/$defs/price_band\""));
  CHECK(contains(one.out, "\"price_band\": {"));
  CHECK_FALSE(contains(one.out, "\"risk_recipe\""));
  CHECK(all.out.size() > one.out.size());
}

TEST_CASE("option values that make no sense are wrong usage") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  for (const std::vector<std::string>& options : {std::vector<std::string>{"--format", "xml"},
                                                  {"--format"},
                                                  {"--colour", "sometimes"},
                                                  {"--time-limit", "soon"},
                                                  {"--time-limit", "0"},
                                                  {"--time-limit", "-1"},
                                                  {"--time-limit", "nan"},
                                                  {"--price", "urea"},
                                                  {"--price", "=4"},
                                                  {"--price", "urea=cheap"},
                                                  {"--price", "urea=inf"},
                                                  {"--output", ""}}) {
    std::vector<std::string> arguments{"blend", file};
    arguments.insert(arguments.end(), options.begin(), options.end());
    const Ran ran = run(arguments);
    CAPTURE(options.front());
    CAPTURE(options.back());
    CHECK(ran.exit_code == usage);
    CHECK(ran.out.empty());
    CHECK_FALSE(ran.err.empty());
  }
}

TEST_CASE("a price for a material that is not there is wrong usage, and the nearest one is named") {
  const Folder folder;
  const Ran ran = run({"blend", folder.write("a.yaml", blendable), "--price", "ureaa=4"});
  CHECK(ran.exit_code == usage);
  CHECK(contains(ran.err, "did you mean 'urea'?"));
}

TEST_SUITE_END();
