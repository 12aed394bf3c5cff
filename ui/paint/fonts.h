#pragma once
#include <QFont>
#include <QString>

namespace yw::ui {

/// B612 for everything that is read. The packaged B612 Mono also calls itself `B612`, and Qt 6.4 then gives
/// the Mono face for a regular B612; so the two text faces are loaded once more under a family name of their
/// own. Needs a QGuiApplication. Falls back to the family `B612` where the files are missing.
QString textFamily();
/// B612 Mono, for tables of ids and addresses.
QString monoFamily();

/// Without kerning, as core measures it.
QFont textFont(double pixelSize, bool bold = false);
QFont monoFont(double pixelSize, bool bold = false);

}  // namespace yw::ui
