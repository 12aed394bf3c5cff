#pragma once
#include <memory>
#include <string>
#include <vector>

#include "core/papers/papers.h"

namespace yw::papers {

/// One of the yards that are compared: the yard itself, an idea of it, or another file.
struct Side {
  std::string name;
  assess::AssessmentPtr assessment;
  std::shared_ptr<const findings::Report> report;
};

/// Figures of each side by side, the first one first: props, pixels, runs, feeds, supplies, boxes, ports,
/// amps, lowest volts and where, wire, parts to buy and their cost, findings by severity. With two sides the
/// difference stands in a last column. Rows stand for no record.
Table comparedFigures(const std::vector<Side>& sides);

/// Parts of which the sides need different amounts.
Table comparedParts(const std::vector<Side>& sides);

/// Both, one under the other.
Table sideBySide(const std::vector<Side>& sides);

/// Records that `to` has otherwise than `from`: only in one of them, or which fields are changed. Each row
/// stands for its record.
Table differences(const Side& from, const Side& to);

/// All of that for people, and for programs (format `yardwright-compare`, version 1): each further side
/// against the first.
std::string compareText(const std::vector<Side>& sides);
std::string compareJson(const std::vector<Side>& sides);

}  // namespace yw::papers
