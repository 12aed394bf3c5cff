#pragma once
#include <map>
#include <string>

#include "core/base/message.h"
#include "core/base/quantity.h"

namespace yw::papers {

using Facts = std::map<std::string, base::Fact>;

/// Wording of resources/messages/papers.txt: `say("yes")` reads the key `papers_yes`.
std::string say(const std::string& key, const Facts& facts = {});

/// Plain decimal without thousands marks, for tables that programs read too: dot, no locale.
std::string fixed(double value, int decimals);
/// The same without trailing zeros.
std::string trimmed(double value, int mostDecimals);

/// Text for HTML and SVG: `&`, `<`, `>`, quotes named, control characters dropped.
std::string markupText(const std::string& text);

}  // namespace yw::papers
