using System.Diagnostics;
using System.Runtime.InteropServices;

namespace LiveStems.Conformance.Devices;

/// <summary>A recording under way of what a sink plays.</summary>
public sealed class SinkRecording(Process recorder, string file) : IDisposable
{
    /// <summary>Bytes so far.</summary>
    public long Length => File.Exists(file) ? new FileInfo(file).Length : 0;

    /// <summary>All whole frames so far, as left and right in turn.</summary>
    public float[] Read()
    {
        using FileStream stream = new(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        float[] samples = new float[stream.Length / (2 * sizeof(float)) * 2];
        stream.ReadExactly(MemoryMarshal.AsBytes(samples.AsSpan()));
        return samples;
    }

    public void Dispose()
    {
        recorder.Kill();
        recorder.WaitForExit();
        recorder.Dispose();
        File.Delete(file);
    }
}
