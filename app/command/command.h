#pragma once
#include <CLI/CLI.hpp>
#include <functional>
#include <string>

#include "core/assess/assess.h"
#include "core/base/result.h"
#include "core/findings/findings.h"

namespace yw::command {

/// Exit codes of the command, the same for every subcommand.
enum Exit : int {
  kClean = 0,        ///< done; `check`: clean, or only notes and close calls
  kFailing = 1,      ///< `check`: Danger or Won't work is present
  kUsage = 2,        ///< an option or value cannot be used
  kUnreadable = 3,   ///< the yard file cannot be read
  kCannotWrite = 4,  ///< something could not be written
};

/// One row a subcommand: name, one line of help, and a function that adds its options and gives what runs it.
struct Subcommand {
  const char* name;
  const char* help;
  std::function<int()> (*define)(CLI::App& app);
};

std::function<int()> defineCheck(CLI::App& app);
std::function<int()> definePapers(CLI::App& app);
std::function<int()> defineShapes(CLI::App& app);
std::function<int()> defineExport(CLI::App& app);
std::function<int()> definePropose(CLI::App& app);
std::function<int()> defineNew(CLI::App& app);
std::function<int()> defineCompare(CLI::App& app);
std::function<int()> defineIdeas(CLI::App& app);

/// Prints the error to the standard error stream; gives the exit code it stands for.
int complain(const base::Error& error);

/// Reads a yard file, `-` for the standard input; notes go to the standard error stream.
base::Result<yard::Yard> readYard(const std::string& path);

/// Writes to the file, or to the standard output for `-`.
int writeOut(const std::string& path, const std::string& bytes);

struct Checked {
  assess::AssessmentPtr assessment;
  findings::Report report;
};
Checked check(const yard::Yard& yard);

}  // namespace yw::command
