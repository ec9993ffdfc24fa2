using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>Commands of the window itself.</summary>
internal static class WindowCommands
{
    private const string Group = "Window";
    private const double ZoomStep = 0.7;

    public static void AddTo(CommandList list, MainScreen screen)
    {
        AlbumDesk desk = screen.Desk;
        list.Add("keys", Group, "All keys", "?|F1", screen.ShowKeys, "help shortcuts");
        list.Add("search", Group, "Find a command", "/", () => screen.Choose(ChooserKind.Command), "palette menu");
        list.Add("add-processor", "Chain", "Add a processor", "A", () => screen.Choose(ChooserKind.Processor), "new correction");
        list.Add("add-preset", "Chain", "Add a preset", "P", () => screen.Choose(ChooserKind.Preset), "chain purpose");
        list.Add("compare-scope", "Listening", "Choose what is compared", "V", () => screen.Choose(ChooserKind.CompareScope), "scope");
        list.Add("zoom-in", Group, "Time axis: closer", "]", () => screen.Lanes.Zoom(ZoomStep, Place(desk)), "zoom");
        list.Add("zoom-out", Group, "Time axis: further", "[", () => screen.Lanes.Zoom(1 / ZoomStep, Place(desk)), "zoom");
        list.Add("zoom-all", Group, "Time axis: whole song", "\\", screen.Lanes.ShowAll, "zoom");
        list.Add("tilt", Group, "Spectrum: next slope", "T", screen.Spectrum.NextTilt, "tilt slope pink");
        SpectrumControl spectrum = screen.Spectrum.Spectrum;
        list.Add("spectrum-peaks", Group, "Spectrum: highest levels, or not", "Shift+P", () => spectrum.ShowsPeaks = !spectrum.ShowsPeaks, "peak hold maximum");
        list.Add("spectrum-long-term", Group, "Spectrum: long-term mean, or not", "Shift+L", () => spectrum.ShowsLongTerm = !spectrum.ShowsLongTerm, "average");
        list.Add("spectrum-spread", Group, "Spectrum: spread (percentiles), or not", "Shift+W", () => spectrum.ShowsSpread = !spectrum.ShowsSpread, "percentile band statistics");
        list.Add("spectrum-clear", Group, "Spectrum: start peaks, mean and spread anew", "Shift+Q", desk.Spectrum.Clear, "reset");
        list.Add("spectrum-covering", Group, "Spectrum: next stem that covers the chosen one", "Shift+M", desk.Finding.ShowNextCovering, "masking pair other stem");
        list.Add("waterfall", Group, "Spectrum: how it went by, or not", "K", screen.Spectrum.ToggleWaterfall, "spectrogram waterfall past");
        list.Add("spectrum-song", Group, "Spectrum of the song, or of what is chosen", "Q", () => desk.Spectrum.ShowsSong = !desk.Spectrum.ShowsSong);
        list.Add("spectrum-hold", Group, "Spectrum: hold", "E", () => desk.Spectrum.IsFrozen = !desk.Spectrum.IsFrozen, "freeze");
        list.Add("part", Group, "Small window: the next part", "F4", screen.Area.ShowNext, "stems spectrum chain meters");
        list.Add("theme", Group, "Dark or light", "Ctrl+T", screen.SwitchTheme, "theme colours");
        list.Add("scale-up", Group, "Everything larger", "Ctrl+=", () => screen.ChangeScale(1), "scale zoom size");
        list.Add("scale-down", Group, "Everything smaller", "Ctrl+-", () => screen.ChangeScale(-1), "scale zoom size");
        list.Add("scale-none", Group, "Usual size", "Ctrl+0", () => screen.ChangeScale(0), "scale zoom size");
        list.Add("close", Group, "Close the window", "Ctrl+Q|Ctrl+W", screen.Close, "quit exit");
    }

    private static double Place(AlbumDesk desk) => desk.Transport.PositionSeconds / Math.Max(0.001, desk.Transport.LengthSeconds);
}
