using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>Commands of the window itself.</summary>
internal static class WindowCommands
{
    private const string Group = "Window";
    private const string Spectrum = "Spectrum";
    private const double ZoomStep = 0.7;

    public static void AddTo(CommandList list, MainScreen screen)
    {
        AlbumDesk desk = screen.Desk;
        list.Add("tilt", Spectrum, "Next slope", "T", screen.Spectrum.NextTilt, "tilt slope pink");
        SpectrumControl spectrum = screen.Spectrum.Spectrum;
        list.Add("spectrum-peaks", Spectrum, "Peaks, or not", "Shift+P", () => spectrum.ShowsPeaks = !spectrum.ShowsPeaks, "peak hold maximum");
        list.Add("spectrum-peaks-stay", Spectrum, "Peaks stay, or fall after two seconds", "Shift+E", () => desk.Spectrum.HoldsPeaks = !desk.Spectrum.HoldsPeaks, "peak hold infinite");
        list.Add("spectrum-long-term", Spectrum, "Long-term mean, or not", "Shift+L", () => spectrum.ShowsLongTerm = !spectrum.ShowsLongTerm, "average");
        list.Add("spectrum-spread", Spectrum, "Spread (percentiles), or not", "Shift+W", () => spectrum.ShowsSpread = !spectrum.ShowsSpread, "percentile band statistics");
        list.Add("spectrum-clear", Spectrum, "Start all curves anew", "Shift+Q", desk.Spectrum.Clear, "reset");
        list.Add("spectrum-covering", Spectrum, "Next stem that covers the chosen", "Shift+M", desk.Finding.ShowNextCovering, "masking pair other stem");
        list.Add("waterfall", Spectrum, "Spectrogram, or not", "K", screen.Spectrum.ToggleWaterfall, "spectrogram waterfall past");
        list.Add("spectrum-song", Spectrum, "Of the song, or of the chosen", "Q", () => desk.Spectrum.ShowsSong = !desk.Spectrum.ShowsSong);
        list.Add("spectrum-hold", Spectrum, "Hold", "E", () => desk.Spectrum.IsFrozen = !desk.Spectrum.IsFrozen, "freeze");
        list.Add("keys", Group, "All keys", "?|F1", screen.ShowKeys, "help shortcuts");
        list.Add("search", Group, "Find a command", "/", () => screen.Choose(ChooserKind.Command), "palette menu");
        list.Add("add-processor", "Chain", "Add a processor", "A", () => screen.Choose(ChooserKind.Processor), "new correction");
        list.Add("add-preset", "Chain", "Add a preset", "P", () => screen.Choose(ChooserKind.Preset), "chain purpose");
        list.Add("compare-scope", "Listening", "Choose what is compared", "V", () => screen.Choose(ChooserKind.CompareScope), "scope");
        list.Add("zoom-in", Group, "Time axis: closer", "]", () => screen.Lanes.Zoom(ZoomStep, Place(desk)), "zoom");
        list.Add("zoom-out", Group, "Time axis: further", "[", () => screen.Lanes.Zoom(1 / ZoomStep, Place(desk)), "zoom");
        list.Add("zoom-all", Group, "Time axis: whole song", "\\", screen.Lanes.ShowAll, "zoom");
        list.Add("part", Group, "Small window: the next part", "F4", screen.Area.ShowNext, "stems spectrum chain meters");
        list.Add("theme", Group, "Dark or light", "Ctrl+T", screen.SwitchTheme, "theme colours");
        list.Add("scale-up", Group, "Everything larger", "Ctrl+=", () => screen.ChangeScale(1), "scale zoom size");
        list.Add("scale-down", Group, "Everything smaller", "Ctrl+-", () => screen.ChangeScale(-1), "scale zoom size");
        list.Add("scale-none", Group, "Usual size", "Ctrl+0", () => screen.ChangeScale(0), "scale zoom size");
        list.Add("close", Group, "Close the window", "Ctrl+Q|Ctrl+W", screen.Close, "quit exit");
    }

    private static double Place(AlbumDesk desk) => desk.Transport.PositionSeconds / Math.Max(0.001, desk.Transport.LengthSeconds);
}
