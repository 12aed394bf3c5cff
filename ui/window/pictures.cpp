// Pictures under the Yard and the walls, and outlines from files: chosen, dropped, read, stored in the yard.
#include <QBuffer>
#include <QComboBox>
#include <QDockWidget>
#include <QFile>
#include <QFileDialog>
#include <QFileInfo>
#include <QImageReader>
#include <QInputDialog>
#include <QLabel>
#include <QTabWidget>
#include <cmath>

#include "ui/canvas/front_view.h"
#include "ui/canvas/items/wall_item.h"
#include "ui/canvas/tools/photo_scale_tool.h"
#include "ui/canvas/yard_view.h"
#include "ui/dialogs/outline_dialog.h"
#include "ui/jobs/pdf_page.h"
#include "ui/panels/photo_panel.h"
#include "ui/window/main_window.h"

namespace yw::ui {

using base::Id;

void MainWindow::bringOutlinesIn(const QString& path) {
  OutlineDialog dialog(document_, this);
  if (!path.isEmpty()) dialog.setFile(path);
  if (dialog.exec() != QDialog::Accepted) return;
  drawings_->setCurrentIndex(0);
  yard_->fitAll();
  yard_->setFocus();
}

void MainWindow::connectPhoto(PhotoPanel& panel) {
  const auto follow = [this, &panel] {
    panel.setWall(drawings_->currentIndex() == 1 ? front_->wall() : Id{});
  };
  connect(drawings_, &QTabWidget::currentChanged, &panel, follow);
  connect(front_, &FrontView::wallChanged, &panel, follow);
  connect(&panel, &PhotoPanel::pictureAsked, this, [this](Id wall) { choosePicture(wall); });
  connect(&panel, &PhotoPanel::moveAsked, this, [this](Id wall) {
    auto tool = std::make_unique<PhotoScaleTool>(view(), wall);
    tool->moveInstead();
    view().setTool(std::move(tool));
    view().setFocus();
  });
  connect(&panel, &PhotoPanel::scaleAsked, this, [this](Id wall, bool check) {
    wall ? front_->scalePhoto(check) : yard_->scalePhoto(check);
    view().setFocus();
  });
}

void MainWindow::choosePicture(Id wall) {
  const QString path =
      QFileDialog::getOpenFileName(this, wall ? tr("Picture of the wall") : tr("Picture of the yard"), {},
                                   tr("Pictures and plans (*.png *.jpg *.jpeg *.pdf)"));
  if (!path.isEmpty()) importPicture(path, wall);
}

namespace {

/// The file's bytes as they are stored: a PDF page as PNG, a picture beyond reason at a smaller size.
struct Stored {
  QByteArray bytes;
  QString title, why;  ///< why it cannot be; both empty: cancelled
  QString told;
};

Stored pageOf(const QString& path, QWidget* parent) {
  Stored stored;
  stored.title = MainWindow::tr("Not a PDF");
  const int pages = pdfPages(path, stored.why);
  if (pages < 1) return stored;
  int page = 1;
  if (pages > 1) {
    bool chosen = false;
    page = QInputDialog::getInt(parent, MainWindow::tr("Page of the plan"),
                                MainWindow::tr("Which of its %1 pages?").arg(pages), 1, 1, pages, 1, &chosen);
    if (!chosen) return {};
  }
  stored.bytes = pdfPage(path, page, parent, stored.why);
  return stored;
}

Stored storedPicture(const QString& path, QWidget* parent) {
  if (QFileInfo(path).suffix().compare(QLatin1String("pdf"), Qt::CaseInsensitive) == 0)
    return pageOf(path, parent);
  Stored stored;
  constexpr qint64 kMostPixels = 60'000'000;
  QImageReader reader(path);
  const QSize size = reader.size();
  if (!reader.canRead() || size.isEmpty()) {
    stored.title = MainWindow::tr("Not a picture");
    stored.why = MainWindow::tr("%1 cannot be read as a PNG or JPEG picture or a PDF page: %2.")
                     .arg(QFileInfo(path).fileName(), reader.errorString());
    return stored;
  }
  if (static_cast<qint64>(size.width()) * size.height() > kMostPixels) {
    reader.setScaledSize(size * std::sqrt(double(kMostPixels) / (double(size.width()) * size.height())));
    QBuffer buffer(&stored.bytes);
    buffer.open(QIODevice::WriteOnly);
    reader.read().save(&buffer, "JPG", 88);
    stored.told = MainWindow::tr("The picture was very large and is kept at a smaller size.");
    return stored;
  }
  QFile file(path);
  if (file.open(QIODevice::ReadOnly)) {
    stored.bytes = file.readAll();
  } else {
    stored.title = MainWindow::tr("Not read");
    stored.why = MainWindow::tr("%1: %2").arg(path, file.errorString());
  }
  return stored;
}

}  // namespace

bool MainWindow::importPicture(const QString& path, Id wall) {
  const Stored stored = storedPicture(path, this);
  if (stored.bytes.isEmpty()) {
    if (!stored.why.isEmpty()) say(stored.title, stored.why);
    return false;
  }
  if (!stored.told.isEmpty()) setHint(stored.told);
  const std::string key = document_.addBlob(stored.bytes.toStdString());
  edit::Editor editor(document_.yard());
  if (wall) {
    editor.update<yard::Wall>(wall, [&](yard::Wall& w) {
      w.photo = key;
      w.photoAt = {};
      w.photoWidth = lengthOf(w);  // until it is scaled
    });
  } else {
    editor.update<yard::Site>(yard::siteId(document_.yard()), [&](yard::Site& site) {
      site.photo = key;
      site.photoAt = {};
      site.photoWidth = base::feet(100);  // until it is scaled
      site.scaleDistance = {};
      site.checkDistance = {};
    });
  }
  document_.commit(editor.finish(tr("Add the picture").toStdString()));
  drawings_->setCurrentIndex(wall ? 1 : 0);
  photoDock_->show();
  photoDock_->raise();
  view().fitAll();
  wall ? front_->scalePhoto() : yard_->scalePhoto();
  view().setFocus();
  return true;
}

}  // namespace yw::ui
