// yardwright-window [FILE]: the window over the computing core.
#include <QApplication>
#include <QCommandLineParser>
#include <QImageReader>
#include <clocale>

#include "ui/fields/look.h"
#include "ui/paint/fonts.h"
#include "ui/window/main_window.h"

int main(int argc, char** argv) {
  QApplication app(argc, argv);
  std::setlocale(LC_NUMERIC, "C");  // Qt took the user's; numbers in files and messages never follow it
  QApplication::setApplicationName(QStringLiteral("yardwright"));
  QApplication::setOrganizationName(QStringLiteral("yardwright"));
  QApplication::setApplicationVersion(QStringLiteral(YARDWRIGHT_VERSION));
  QApplication::setStyle(QStringLiteral("Fusion"));
  QApplication::setFont(yw::ui::textFont(yw::ui::kTextSize));
  QImageReader::setAllocationLimit(512);

  QCommandLineParser parser;
  parser.setApplicationDescription(
      QStringLiteral("Plan, check and print the wiring of a yard of pixel props."));
  parser.addHelpOption();
  parser.addVersionOption();
  parser.addOption({QStringLiteral("sample"), QStringLiteral("Open the sample yard.")});
  parser.addPositionalArgument(QStringLiteral("FILE"), QStringLiteral("The yard to open."),
                               QStringLiteral("[FILE]"));
  parser.process(app);

  yw::ui::MainWindow window;
  window.show();
  if (!window.offerRecovery()) {
    if (!parser.positionalArguments().isEmpty())
      window.openFile(parser.positionalArguments().first());
    else if (parser.isSet(QStringLiteral("sample")))
      window.openSample(QStringLiteral("porch-and-lawn.yard"));
  }
  return QApplication::exec();
}
