#pragma once
#include <QByteArray>
#include <QString>

class QWidget;

namespace yw::ui {

/// How many pages a PDF file has, by the `pdfinfo` of poppler-utils; 0 with the reason in `why`.
int pdfPages(const QString& path, QString& why);

/// A page of a PDF file (1-based) as a PNG picture of 200 dots an inch, by the `pdftoppm` of poppler-utils.
/// The window stays alive and a Cancel is offered; empty if it was taken or failed, with the reason in `why`
/// (empty: cancelled).
QByteArray pdfPage(const QString& path, int page, QWidget* parent, QString& why);

}  // namespace yw::ui
