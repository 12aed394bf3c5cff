#pragma once
#include <QByteArray>
#include <QImage>
#include <QString>
#include <functional>
#include <string>

#include "core/base/result.h"
#include "core/papers/drawing.h"
#include "ui/paint/theme.h"

class QPainter;
class QPagedPaintDevice;

namespace yw::ui {

using BlobSource = std::function<std::string(const std::string& key)>;

/// Paints one page; the painter's unit must be one millimetre of paper.
void paintPage(QPainter& painter, const papers::Page& page, const Theme& theme, const BlobSource& blobs);

/// Vector PDF with selectable text; same document, same bytes. Needs a QGuiApplication (any platform); any
/// thread. `goesOn` (may be empty) is asked before each page, with how many are painted; false stops it, and
/// the bytes are none.
std::string pdfBytes(const papers::Document& document, const BlobSource& blobs,
                     const std::function<bool(std::size_t)>& goesOn = {});
base::Result<void> writePdf(const papers::Document& document, const QString& path, const BlobSource& blobs);
QImage pageImage(const papers::Page& page, double dotsPerInch, const Theme& theme, const BlobSource& blobs);

}  // namespace yw::ui
