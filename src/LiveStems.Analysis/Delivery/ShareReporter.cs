using LiveStems.Engine.Offline;

namespace LiveStems.Analysis.Delivery;

/// <summary>Passes a render's progress on as a share from 0 to 1.</summary>
internal sealed class ShareReporter(IProgress<double> progress) : IProgress<RenderProgress>
{
    public void Report(RenderProgress value) => progress.Report((double)value.DoneFrames / Math.Max(1, value.TotalFrames));
}
