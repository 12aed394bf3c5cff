#pragma once
#include <QStringList>

#include "ui/document/document.h"

namespace yw::ui {

/// `Cone tree · 16 strips … `: what the selection is, in one line.
QString headlineOf(const Document& document, const std::set<base::Id>& ids);

/// What the engine says of it now: amps, volts at the selected pixel, address, load. One line each.
QStringList factsOf(const Document& document, const std::set<base::Id>& ids);

/// Run and 1-based place of the pixel that is selected; none.
std::pair<base::Id, std::int64_t> selectedPlace(const Document& document);

/// A free port of a controller, receiver or box (its first), or the port itself; none.
base::Id freePortOf(const yard::Yard& yard, base::Id id);

}  // namespace yw::ui
