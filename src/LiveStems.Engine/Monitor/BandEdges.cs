using LiveStems.Dsp.Filters;

namespace LiveStems.Engine.Monitor;

/// <summary>Where the high-pass and the low-pass of the band-listen filter are 3 dB down.</summary>
/// <param name="LowerHz">Corner of the high-pass.</param>
/// <param name="UpperHz">Corner of the low-pass.</param>
internal readonly record struct BandEdges(double LowerHz, double UpperHz)
{
    /// <summary>
    /// centre · 2^(∓width/2), the upper edge at most 0.49 of the sample rate: a band that lies beyond keeps its narrowest width
    /// below that.
    /// </summary>
    /// <param name="centreOctaves">Centre in octaves above 1 Hz.</param>
    /// <param name="widthOctaves">Width in octaves.</param>
    /// <param name="sampleRate">Frames per second.</param>
    public static BandEdges Around(double centreOctaves, double widthOctaves, double sampleRate)
    {
        double highest = Math.Log2(MatchedDesign.HighestShare * sampleRate);
        double upper = Math.Min(centreOctaves + widthOctaves / 2, highest);
        double lower = Math.Min(centreOctaves - widthOctaves / 2, highest - MonitorSettings.NarrowestBandOctaves);
        return new(Math.Pow(2, lower), Math.Pow(2, upper));
    }
}
