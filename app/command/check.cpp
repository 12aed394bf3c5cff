#include "app/command/command.h"
#include "core/papers/papers.h"

namespace yw::command {

namespace {
struct Options {
  std::string file;
  bool json = false, tsv = false;
};
}  // namespace

std::function<int()> defineCheck(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("FILE", options->file, "The yard; - reads the standard input")->required();
  CLI::Option* json =
      app.add_flag("--json", options->json, "For a program: format yardwright-check, version 1");
  app.add_flag("--tsv", options->tsv, "One finding a line, tab-separated")->excludes(json);
  return [options] {
    const base::Result<yard::Yard> yard = readYard(options->file);
    if (!yard) return complain(yard.error());
    const Checked checked = check(*yard);
    const std::string said = options->json ? papers::checkJson(*checked.assessment, checked.report)
                             : options->tsv
                                 ? papers::tsv(papers::findingsTable(*checked.assessment, checked.report))
                                 : papers::checkText(*checked.assessment, checked.report);
    const int written = writeOut("-", said);
    return written != kClean ? written : checked.report.failing ? kFailing : kClean;
  };
}

}  // namespace yw::command
