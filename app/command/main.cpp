// yardwright: the command over the computing core. One row a subcommand; each has its own file.
#include <exception>
#include <iostream>

#include "app/command/command.h"

namespace {

using namespace yw::command;

constexpr Subcommand kSubcommands[] = {
    {"check", "Say what is wrong with a yard, worst first", defineCheck},
    {"propose",
     "Plan box sites, supplies, ports, feeds, outlets, trenches, addresses and covers, and say why",
     definePropose},
    {"papers", "Write the sheets of a yard: PDF, CSV and JSON", definePapers},
    {"shapes", "List the kinds of prop with their sizes and counts", defineShapes},
    {"ideas", "List, make, show, rename, drop and adopt the ideas of a yard", defineIdeas},
    {"compare", "Put a yard and its ideas, or two yards, side by side", defineCompare},
    {"export", "Write tables, pixel places or the circuit of a yard", defineExport},
    {"new", "Write an empty yard", defineNew},
};

constexpr const char* kExamples = R"(Examples:
  yardwright check porch.yard               what is wrong, worst first
  yardwright check porch.yard --json        the same for a program
  yardwright papers porch.yard --to sheets  every sheet as PDF, every table as CSV
  yardwright compare porch.yard --idea "One box less"   figures side by side, and what differs
  yardwright export porch.yard --what pixels --to -
  yardwright new --to porch.yard

Exit codes: 0 clean, or only notes and close calls; 1 check found Danger or Won't work;
2 wrong use; 3 the yard cannot be read; 4 something cannot be written.)";

/// Levenshtein distance, for 'did you mean'.
std::size_t editDistance(const std::string& a, const std::string& b) {
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t corner = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = corner + (a[i - 1] == b[j - 1] ? 0 : 1);
      corner = row[j];
      row[j] = std::min({replaced, row[j] + 1, row[j - 1] + 1});
    }
  }
  return row[b.size()];
}

void suggest(const std::string& typed) {
  for (const Subcommand& row : kSubcommands)
    if (typed != row.name && editDistance(typed, row.name) <= 2)
      std::cerr << "Did you mean '" << row.name << "'?\n";
}

int run(int argc, char** argv) {
  CLI::App app{"Yardwright: plan, check and print the wiring of a yard of pixel props.", "yardwright"};
  app.set_version_flag("--version", std::string("yardwright ") + YARDWRIGHT_VERSION);
  app.footer(kExamples);
  app.require_subcommand(1);
  int status = kClean;
  for (const Subcommand& row : kSubcommands) {
    CLI::App* sub = app.add_subcommand(row.name, row.help);
    sub->callback([&status, action = row.define(*sub)] { status = action(); });
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& wanted) {
    return app.exit(wanted);  // --help, --version: standard output, 0
  } catch (const CLI::ParseError& error) {
    std::cerr << "yardwright: " << error.what() << '\n';
    if (argc > 1) suggest(argv[1]);
    std::cerr << "Try 'yardwright --help'.\n";
    return kUsage;
  }
  return status;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (const std::exception& error) {
    std::cerr << "yardwright: "
              << yw::base::text(yw::base::Message{"error_internal", {{"what", std::string(error.what())}}})
              << '\n';
    return 70;
  }
}
